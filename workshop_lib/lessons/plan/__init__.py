"""Lesson 06: its panels and its exercises."""
