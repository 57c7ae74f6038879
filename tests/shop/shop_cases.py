"""A shop file in which every entry stands: for the tests of shops and for the fuzz."""

FULL = """\
# Mine.
format = 1

[units]
system = "inch"  # I think in thou
language = "en"

[lathe]
name = "small lathe"
speeds = ["900 rev/min", "60 rpm", "105 rpm", 190, "300", "500 rpm"]
swing = "9 in"
highest_thrust = "200 lbf"
calibration = { pulls = ["5 lbf", "10 lbf", "15 lbf"], thrusts = ["50 lbf", "100 lbf", "150 lbf"], \
graduation = "1 lbf" }

[nose.mine]
design = "pressure_nose"
bearings = { front = "6001", rear = 6001 }
fit = { front = "H7", rear = "0.0008 in" }
plate_diameter = "4 in"

[nose.old]
design = "pressure_nose"
[nose.old.bearings]
front = "R8"
[nose.old.bearings.rear]
kind = "deep_groove"
bore = "0.5 in"
outside_diameter = "1.125 in"
width = "0.25 in"
dynamic_rating = "1150 lbf"
static_rating = "537 lbf"

[pads.leather_4in]
outer_diameter = "4 in"
facing = "leather"
friction = [0.3, 0.4, 0.5]

[nose.pushed]
design = "pressure_nose"
bearings = { front = "6001", rear = 6001 }
overhang = "1 in"
span = "1.25 in"
clearance = { front = "C3", rear = "12 um" }
pushed = "both"
spacing = "0.01 mm"
spindle = "12 mm"
seats = { rear = "g6" }
faces = { shoulder = "16 mm" }
notes = "made in May"

[nose.centre]
design = "preloaded_centre"
preload = "300 N"
positions = { front = "24 mm", thrust = "50 mm" }
[nose.centre.bearings]
front = "7201 B"
[nose.centre.bearings.thrust]
kind = "thrust_ball"
bore = "12 mm"
outside_diameter = "26 mm"
width = "9 mm"
dynamic_rating = "10400 N"
static_rating = "16600 N"

[pads.ring]
outer_diameter = "4 in"
inner_diameter = "2 in"
pressure = "uniform"
facing = "cork"
facing_thickness = "3 mm"
condition = "dry"
"""
