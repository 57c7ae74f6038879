"""What stands behind `workshop_lib.uncertainty` and `workshop_lib.measured`: draws and readings."""
