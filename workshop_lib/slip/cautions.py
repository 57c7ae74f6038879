"""Which cautions hold wherever a disc is squeezed? Said once, for lessons, plans and write-ups."""

KEEP_THE_THRUST = (
    "Never ease the thrust, and never reach for the handwheel, while the spindle turns: the disc "
    "has nothing else to hold it."
)
