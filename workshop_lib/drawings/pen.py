"""Which line weights, colours and letters do drawings and charts share?"""

from workshop_lib.drawings.markup import Html, attributes, number, plain
from workshop_lib.quantities import InputError, quote

PIXELS = 4  # on screen for one millimetre of paper
LEAST = 0.65  # of its width, to which a picture shrinks; on a narrower screen it slides sideways
FONT = "Arial, Liberation Sans, Helvetica, sans-serif"
SIZES = {"small": 3.0, "normal": 3.6, "large": 4.6}

# Width in mm and dashes; outline : thin = 2 : 1 as ISO 128 has it.
STYLES = {
    "outline": (0.5, ""),
    "heavy": (0.8, ""),
    "thin": (0.25, ""),
    "hatch": (0.18, ""),
    "hidden": (0.3, "2 1"),
    "centre": (0.25, "6 1 1 1"),
    "phantom": (0.25, "6 1 1 1 1 1"),
    "dotted": (0.4, "0.4 1"),
    "none": (0, ""),
}

# Chosen so that each pair still differs for the three common kinds of colour blindness, and so
# that each keeps a contrast of at least 4.5 to 1 on white.
COLOURS = {
    "ink": "#1d232b",
    "grey": "#566270",
    "blue": "#0a5ea8",
    "orange": "#a84300",
    "green": "#06685a",
    "purple": "#7a3396",
    "white": "#ffffff",
}
FILLS = {
    "steel": "#e6eaee",
    "sheet": "#f6e2b8",
    "pad": "#d5e6f5",
    "facing": "#c9b79c",
    "nose": "#dfe9dc",
    "paper": "#ffffff",
    "pale blue": "#e3eef8",
    "pale orange": "#fbe6d6",
    "pale green": "#dcefe9",
}


def colour_of(name):
    """Return the value of a colour of the palette; anything else is refused."""
    if name in COLOURS:
        return COLOURS[name]
    raise InputError("colour", f"{quote(name)} is not one of the colours: {', '.join(COLOURS)}")


def svg_frame(width, height, alt, body):
    """Wrap drawn parts as one SVG picture that scales with the text around it.

    width, height: mm on paper. The sheet is white, so that a dark theme leaves it legible.
    """
    wide = width * PIXELS / 14
    size = attributes(
        viewBox=f"0 0 {number(width)} {number(height)}",
        width=number(width * PIXELS),
        height=number(height * PIXELS),
        role="img",
        aria_label=plain(alt),
        style=f"width:{number(wide)}em;max-width:100%;min-width:{number(LEAST * wide)}em;"
        "height:auto;background:#fff;border-radius:4px",
    )
    letters = attributes(
        font_family=FONT,
        font_size=number(SIZES["normal"]),
        fill=COLOURS["ink"],
        stroke_linejoin="round",
    )
    sheet = f'<rect width="{number(width)}" height="{number(height)}" fill="#fff"/>'
    # Letters sit on the inner group: on the svg itself they would also rule the em of its width.
    return Html(
        f'<svg xmlns="http://www.w3.org/2000/svg"{size}>{sheet}<g{letters}>{body}</g></svg>'
    )
