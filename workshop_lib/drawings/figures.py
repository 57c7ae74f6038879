"""What is a figure? A picture with its caption, and the sentence for those who cannot see it."""

import re
from urllib.parse import quote

from workshop_lib.drawings.markup import Html, attributes, plain, rich
from workshop_lib.drawings.pen import svg_frame

_SIZE = re.compile(r' (width="[0-9.]+" height="[0-9.]+")')
_STYLE = re.compile(r' style="([^"]*)"')
_CAPTION = "margin-top:.35em;font-size:.93em;max-width:46em"


class Figure:
    """A finished picture: in a page with its caption, as plain text its alt sentence."""

    def __init__(self, svg, alt, caption=""):
        self.svg, self.alt, self.caption = svg, alt, caption

    def html(self):
        """Return the figure as safe HTML with the drawing in place, its words selectable."""
        return self._framed(self.svg)

    def portable(self):
        """Return the figure as HTML that a wary viewer keeps: the drawing as an image.

        A notebook that was not run on this machine is shown with every inline drawing taken out;
        an image with an alt sentence stays.
        """
        # Single quotes and few escapes keep the stored page small and its changes readable.
        source = quote(self.svg.replace('"', "'"), safe=" '!$()*+,-./:;=?@[]_|~^·–−°μ")
        size = _SIZE.search(self.svg).group(1)
        look = _STYLE.search(self.svg).group(0)
        named = attributes(alt=self.text())
        return self._framed(f'<img {size}{look}{named} src="data:image/svg+xml,{source}">')

    def text(self):
        """Return the sentence that says what the picture shows."""
        return plain(self.alt)

    def figure(self, caption=""):
        """Return the same picture with another caption."""
        return Figure(self.svg, self.alt, caption or self.caption)

    def _framed(self, picture):
        caption = ""
        if self.caption:
            caption = f'<figcaption style="{_CAPTION}">{rich(self.caption)}</figcaption>'
        return Html(f'<figure style="margin:.6em 0;overflow-x:auto">{picture}{caption}</figure>')

    def _repr_html_(self):
        return str(self.portable())

    def __repr__(self):
        return self.text()


class Layered(Figure):
    """A chart in two layers: what stands still, and what moves with a slider.

    size: (width, height) in mm. still, moving: SVG in points.
    """

    def __init__(self, size, still, moving, alt, caption=""):
        self.size, self.still, self.moving = size, still, moving
        super().__init__(self._sheet(alt, moving), alt, caption)

    def figure(self, caption=""):
        """Return the same picture with another caption."""
        return Layered(self.size, self.still, self.moving, self.alt, caption or self.caption)

    def slot(self):
        """Return the figure as HTML without its moving layer and its sentence, for a panel."""
        return self._framed(self._sheet("", ""))

    def _sheet(self, alt, moving):
        scale = f"scale({25.4 / 72:.6f})"
        body = f'<g transform="{scale}">{self.still}<g class="wb-moving">{moving}</g></g>'
        return svg_frame(*self.size, alt, body)
