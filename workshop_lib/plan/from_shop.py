"""What does a job take from the shop, and what is usual where neither says anything?"""

from functools import lru_cache

from workshop_lib.own_files import as_typed, quantity
from workshop_lib.plan.settable import set_up
from workshop_lib.quantities import InputError, Quantity, system, system_of
from workshop_lib.shop import WORDS

DEFAULTS = {
    "about.state": "planned",
    "pad.inner_diameter": Quantity(0.0, "mm"),
    "pad.pressure": "uniform",
    "pad.condition": "dry",
    "cut.kind": "traverse",
    "cut.depth": Quantity(0.2, "mm"),
    "cut.feed": Quantity(0.05, "mm"),
    "cut.tool": "hss",
    "cut.approach_angle": Quantity(90.0, "deg"),
    "cut.rake": Quantity(0.0, "deg"),
    "cut.margin": 2.0,
    "nose.design": "pressure_nose",
}
IN_INCH = {
    "pad.inner_diameter": Quantity(0.0, "inch"),
    "cut.depth": Quantity(8.0, "thou"),
    "cut.feed": Quantity(2.0, "thou"),
}
MAKE_ONE = "Make my_shop.toml, by the panel “Your shop” of lesson 00"
BLANK = ("blank.corners", "blank.across_flats", "blank.side", "blank.outline")
SPARE = {"metric": Quantity(2.0, "mm"), "inch": Quantity(3 / 32, "inch")}  # across a usual blank
CORNERS, ANY_DISC = 8, Quantity(100.0, "mm")
_LENGTH = quantity("length > 0")


def supplied(entries, shop, speed=None):
    """What takes the place of entries that a job leaves out: values by key, and faults.

    entries: as they were typed. shop: `shop.Shop`, or None. speed: chosen from the lathe's list;
    its lowest until one is.
    """
    values, faults = {}, []
    for part in (_pad, _nose):
        try:
            values |= part(entries, shop)
        except InputError as fault:
            faults.append(fault)
    speeds = shop.lathe.speeds if shop is not None and shop.lathe is not None else ()
    if speeds and "cut.speed" not in entries:
        values["cut.speed"] = speeds[0] if speed is None else speed
    values |= _blank(entries, shop)
    return {key: value for key, value in values.items() if key not in entries}, faults


def _named(entries, shop, key, all_of, needed):
    """The one that a job names, or the only one that there is; None where it takes none."""
    name = entries.get(key)
    if name is not None:
        if shop is None:
            raise InputError(key, "the workbook has no shop file to take this from", MAKE_ONE)
        return name
    known = {} if shop is None else all_of(shop)
    if not known or not needed:
        return None
    if len(known) > 1:
        raise InputError(key, "is missing", f"Type one of those in your shop: {', '.join(known)}")
    return next(iter(known))


def _pad(entries, shop):
    lacking = not {"pad.outer_diameter", "pad.facing"} <= entries.keys()
    name = _named(entries, shop, "pad.name", lambda each: each.pads, lacking)
    if name is None:
        return {}
    return {"pad.name": name} | {f"pad.{key}": value for key, value in shop.pad(name).items()}


def _nose(entries, shop):
    free = "nose.design" not in entries
    name = _named(entries, shop, "nose.name", lambda each: each.noses, free)
    if name is None:
        return {}
    plate = shop.nose(name).plate_diameter
    return {"nose.name": name} | ({} if plate is None else {"nose.plate_diameter": plate})


def _blank(entries, shop):
    """An octagon a little larger than the disc, where nothing is said of the blank."""
    if any(key in entries for key in BLANK):
        return {}
    disc = _disc(entries)
    inch = units_of(entries, shop) == "inch"
    across = _across(float(disc.magnitude), disc.units, "inch" if inch else "metric")
    return {"blank.corners": CORNERS, "blank.across_flats": across}


def _disc(entries):
    try:
        return _LENGTH(entries.get("disc.diameter"), "disc.diameter")
    except InputError:
        return ANY_DISC  # what is wrong with the disc is said of the disc


def units_of(entries, shop):
    """In which system a job is told before it is made: its shop's; inch where its disc is in inch.

    entries: as they were typed. Returns "metric", "inch" or None.
    """
    if shop is not None and shop.units:
        return shop.units
    return "inch" if system_of(_disc(entries)) == "inch" else system()


@lru_cache(maxsize=64)
def _across(disc, unit, system):
    """Across the flats of a usual blank; the same object each time: a job knows it again."""
    return round((Quantity(disc, unit).to(SPARE[system].units) + SPARE[system]).to(unit), 6)


def calibration_of(shop, by):
    """The lathe's calibration by "pull" or "turn"; refuses where there is none."""
    key = f"thrust.{by}"
    if shop is None:
        raise InputError(key, "the workbook has no shop file with a calibration", MAKE_ONE)
    found = None if shop.lathe is None else shop.lathe.calibration
    if found is None or found.by != by:
        problem = f"your shop has no calibration by the {WORDS[by]}"
        raise InputError(
            key,
            problem,
            "Measure with a scale between pad and nose, and add calibration under [lathe]",
        )
    return found


def told(job):
    """What the job took from the shop, and what was taken as usual: sentences."""
    took = job.supplied
    if job.shop is not None and job.shop.file is not None:
        lathe = job.shop.lathe
        names = [lathe.name or "its lathe"] if lathe is not None else []
        names += [f"nose “{took['nose.name']}”"] if "nose.name" in took else []
        names += [f"pad “{took['pad.name']}”"] if "pad.name" in took else []
        yield f"Taken from {job.shop.file.name}: {', '.join(names) or 'units alone'}."
    if job.speed_told:
        yield job.speed_told
    usual = [f"{words} {_told(job[key])}" for key, words in USUAL.items() if _left_out(job, key)]
    if _left_out(job, "pad.condition"):
        usual.append("a dry pad and a dry sheet")
    if job.thrust_read is None and job["thrust.uncertainty"] is None:
        usual.append("a thrust that is uncertain by a tenth (thrust.uncertainty)")
    if usual:
        yield f"Not said, so taken as usual: {', '.join(usual)}."


USUAL = {
    "blank.across_flats": "a blank cut to an octagon across flats of",
    "cut.depth": "depth of cut",
    "cut.feed": "feed in a turn",
}


def _told(amount):
    """As it is typed; inches, which are whole steps here, as a rule shows them."""
    return set_up("snip", amount).told if as_typed(amount).endswith(" in") else as_typed(amount)


def _left_out(job, key):
    return key not in job.values and (key in job.usual or key in job.supplied)
