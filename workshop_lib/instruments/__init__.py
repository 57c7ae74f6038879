"""What do a scan and a sound recording say? Edge, circles and size of a disc; taps and whistles."""

from workshop_lib.instruments.blank_scan import scan_blank
from workshop_lib.instruments.circles import (
    Circle,
    largest_in,
    least_squares,
    minimum_zone,
    smallest_round,
)
from workshop_lib.instruments.cutting_sound import speed_from_strikes, whistle
from workshop_lib.instruments.disc_scan import DiscScan, scan_disc
from workshop_lib.instruments.free_disc import (
    free_frequencies,
    free_shapes,
    match_modes,
    modulus_from_note,
    sheet_from_note,
)
from workshop_lib.instruments.hearing import Heard, hear_taps, spectrum
from workshop_lib.instruments.made_files import MADE, made
from workshop_lib.instruments.mounted import Facing, facing_from_note
from workshop_lib.instruments.picture import Picture, read_picture
from workshop_lib.instruments.recording import Recording, read_recording
from workshop_lib.instruments.turned_scans import Turned, compare_turned

__all__ = [
    "Circle",
    "DiscScan",
    "Facing",
    "Heard",
    "MADE",
    "Picture",
    "Recording",
    "Turned",
    "compare_turned",
    "facing_from_note",
    "free_frequencies",
    "free_shapes",
    "hear_taps",
    "largest_in",
    "least_squares",
    "made",
    "match_modes",
    "minimum_zone",
    "modulus_from_note",
    "read_picture",
    "read_recording",
    "scan_blank",
    "scan_disc",
    "sheet_from_note",
    "smallest_round",
    "spectrum",
    "speed_from_strikes",
    "whistle",
]
