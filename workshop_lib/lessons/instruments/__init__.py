"""Lesson 07: its panels and its exercises."""
