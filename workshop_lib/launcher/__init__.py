"""What starts the workbook on a bare machine? The environment, its lock, and the commands.

Before the environment stands there is only the standard library, so nothing here imports more; the
modules that a command names (`opening`, `checking`, …) run inside the environment and may.
"""
