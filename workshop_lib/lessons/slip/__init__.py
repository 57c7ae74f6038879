"""Lesson 02: its panels and its exercises."""
