"""What stands behind `workshop_lib.run_out`: readings, fits, patterns, evidence and causes."""
