"""How does a job become a page to publish, and a card to take to the machine?"""

from workshop_lib.write_up import making
from workshop_lib.write_up.card_page import write_card
from workshop_lib.write_up.making_command import save_sheet, sheet, write_sheet
from workshop_lib.write_up.page_files import file_name
from workshop_lib.write_up.publish import FORMS, preview, why_numbered, write

__all__ = [
    "FORMS",
    "file_name",
    "making",
    "preview",
    "save_sheet",
    "sheet",
    "why_numbered",
    "write",
    "write_card",
    "write_sheet",
]
