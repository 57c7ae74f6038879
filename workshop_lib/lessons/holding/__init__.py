"""Lesson 01: its panels and its exercises."""
