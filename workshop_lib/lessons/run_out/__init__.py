"""Lesson 05: its panels and its exercises."""
