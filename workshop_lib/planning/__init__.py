"""What stands behind `workshop_lib.plan`: a job's entries, its file, and how it is judged."""
