"""A figure: a picture with its caption, and the sentence that stands for it where none is seen."""

import re
from urllib.parse import quote

from workshop_lib.drawings.markup import Html, attributes, plain, rich

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
        return Html(f'<figure style="margin:.6em 0">{picture}{caption}</figure>')

    def _repr_html_(self):
        return str(self.portable())

    def __repr__(self):
        return self.text()
