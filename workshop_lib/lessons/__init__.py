"""The lessons: one package each, with its panels and its exercises, in the order of the course."""

ORDER = ("start", "holding", "slip", "light_cuts", "bearings", "run_out", "plan", "instruments")
