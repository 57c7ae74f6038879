"""What stands behind `workshop_lib.blank` and `workshop_lib.passes`: outlines and turns."""
