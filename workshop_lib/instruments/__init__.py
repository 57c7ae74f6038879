"""What do a scan and a sound recording say? Edge, circles and size of a disc; taps and whistles."""

from workshop_lib.instruments.blank_scan import scan_blank
from workshop_lib.instruments.circles import (
    Circle,
    largest_in,
    least_squares,
    minimum_zone,
    smallest_round,
)
from workshop_lib.instruments.disc_scan import DiscScan, scan_disc
from workshop_lib.instruments.picture import Picture, read_picture
from workshop_lib.instruments.turned import Turned, compare_turned

__all__ = [
    "Circle",
    "DiscScan",
    "Picture",
    "Turned",
    "compare_turned",
    "largest_in",
    "least_squares",
    "minimum_zone",
    "read_picture",
    "scan_blank",
    "scan_disc",
    "smallest_round",
]
