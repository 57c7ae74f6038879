"""Lesson 04: its panels and its exercises."""
