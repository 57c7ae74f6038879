"""Lesson 03: its panels and its exercises."""
