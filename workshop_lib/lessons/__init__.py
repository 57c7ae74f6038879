"""Which lessons are there, in which order? One package each, with its panels and exercises."""

ORDER = ("start", "holding", "slip", "light_cuts", "bearings", "run_out", "plan", "instruments")
