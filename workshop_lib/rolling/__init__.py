"""What stands behind `workshop_lib.bearings`: tables, ratings, contacts and balls at rest."""
