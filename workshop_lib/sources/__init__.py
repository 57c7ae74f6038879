"""Where does a number come from, and how are files read and replaced without losing anything?"""

from workshop_lib.sources import csv_tables
from workshop_lib.sources.citations import (
    STANDINGS,
    Source,
    all_sources,
    cite,
    find_all,
    find_source,
    keys_in_cell,
    standing,
)
from workshop_lib.sources.csv_tables import (
    Range,
    anything,
    by_key,
    choose,
    load,
    meant,
    text,
    whole,
)
from workshop_lib.sources.files import KEPT_BY_WINDOWS, ordinary_file
from workshop_lib.sources.safe_file import bears, keep_copy, replace_text, set_aside
from workshop_lib.sources.safe_set import replace_folder, restore

__all__ = [
    "KEPT_BY_WINDOWS",
    "Range",
    "STANDINGS",
    "Source",
    "all_sources",
    "anything",
    "bears",
    "by_key",
    "choose",
    "cite",
    "csv_tables",
    "find_source",
    "find_all",
    "keep_copy",
    "keys_in_cell",
    "load",
    "meant",
    "ordinary_file",
    "replace_folder",
    "replace_text",
    "restore",
    "set_aside",
    "standing",
    "text",
    "whole",
]
