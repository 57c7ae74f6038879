"""How long will a long step still take? A bar that shows only when it does take long."""

import time

import ipywidgets
from IPython.display import display

PATIENCE = 1.0  # seconds before a bar appears; what is quicker needs none


def bar(words="Draws"):
    """Return a function (done, total) that shows a bar once a second has gone by.

    Hand it to `uncertainty.propagate` or `chance_of_slip` as `progress`.
    """
    begun, shown = time.monotonic(), []

    def report(done, total):
        if not shown and time.monotonic() - begun > PATIENCE:
            shown.append(ipywidgets.IntProgress(min=0, max=total, description=words))
            display(shown[0])
        if shown:
            shown[0].value = done
            shown[0].description = f"{words}: {100 * done // total} %"

    return report
