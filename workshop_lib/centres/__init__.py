"""What stands behind `workshop_lib.load_path`: designs, their shafts, noses and centres."""
