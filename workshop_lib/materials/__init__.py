"""What are the sheet and the pad facing made of, and how hard do they grip?"""

from workshop_lib.materials.material_lookup import (
    BARE,
    facing,
    facings,
    find_material,
    friction,
    friction_between,
    materials,
)
from workshop_lib.materials.material_tables import CONDITIONS

__all__ = [
    "BARE",
    "CONDITIONS",
    "facing",
    "facings",
    "find_material",
    "friction",
    "friction_between",
    "materials",
]
