"""What does a new shop file look like? Commented, with all that counts commented out."""

TEMPLATE = """\
# My shop: what all my jobs need, in one place. Amounts are text with their unit: "4 in".
# Take away the # in front of what you have, and put in your own numbers. Lines that begin with #
# are yours; they stay when the workbook saves the file. A job's own entries win over this file.
format = 1

[units]
# The units that the workbook shows: "metric" or "inch". You can still type any unit.
# system = "inch"
# The language of its panels, by its code: "en", or "de" for German (lesson 02 so far).
# language = "de"

[lathe]
# name = "the small lathe"
# Its speeds in rev/min.
# speeds = [60, 105, 190, 300, 500, 900]
# Largest diameter that turns over the bed, and what the tailstock can take: see its manual.
# swing = "9 in"
# highest_thrust = "200 lbf"
# Thrust on a scale between pad and nose, spindle stopped, at known pulls on the handle. Squeeze
# afresh for each, five or more. Turns of the wheel ("turns") will do for one facing and disc only.
# calibration = { pulls = ["5 lbf", "10 lbf", "15 lbf", "15 lbf"], thrusts = ["42 lbf", "85 lbf", \
"124 lbf", "131 lbf"], graduation = "2 lbf" }

# One heading for each nose; mine is only a name.
# [nose.mine]
# design = "pressure_nose"
# bearings = { front = "6001", rear = "6001" }
# A bearing that is in no table: sizes and both ratings as its maker prints them, in one line, as
# { kind = "deep_groove", bore = …, outside_diameter = …, width = …, dynamic_rating = …,
# static_rating = … }
# From the tip to the middle of the front bearing, and on to the rear one.
# overhang = "1 in"
# span = "1.25 in"
# Bore of the body: a class such as "H7", or the play of the outer rings as you measured it.
# fit = "H7"
# clearance = "normal"
# Which inner ring the spindle's shoulder pushes: "front", "rear" or "both".
# pushed = "front"
# plate_diameter = "4 in"

# One heading for each pad.
# [pads.leather_4in]
# outer_diameter = "4 in"
# facing = "leather"
# facing_thickness = "0.125 in"
"""
