"""Lesson 00: its panels and its exercises."""
