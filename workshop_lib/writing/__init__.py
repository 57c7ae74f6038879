"""What stands behind `workshop_lib.write_up`: the parts of a write-up, and the forms it takes."""
