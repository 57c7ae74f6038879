"""Drawings, charts and page parts: what lessons and write-ups show the results with."""
