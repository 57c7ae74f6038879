"""What has this shop? A person's own lathe, noses, pads and units, in one file."""

from workshop_lib.shop.calibration import WORDS, Calibration
from workshop_lib.shop.own_shop import Lathe, Nose, Shop, ShopFaults
from workshop_lib.shop.shop_entries import entries
from workshop_lib.shop.shop_file import NAME, changed, find, folder, found, load, parse, save
from workshop_lib.shop.template import TEMPLATE

__all__ = [
    "Calibration",
    "Lathe",
    "NAME",
    "Nose",
    "Shop",
    "ShopFaults",
    "TEMPLATE",
    "WORDS",
    "changed",
    "entries",
    "find",
    "folder",
    "found",
    "load",
    "parse",
    "save",
]
