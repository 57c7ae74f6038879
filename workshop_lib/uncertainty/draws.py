"""What do the answers of many draws say? Their mean, their spread, and shares of them in order."""

import numpy as np

from workshop_lib.quantities import resolution


class Ordered:
    """Answers in order. Infinities may be among them, and whole numbers stay whole."""

    def __init__(self, answers):
        self.values = np.sort(answers)

    @property
    def mean(self):
        """Mean of all answers; infinite if some are, NaN if they are so both ways."""
        with np.errstate(invalid="ignore"):
            return float(np.mean(self.values))

    @property
    def deviation(self):
        """Standard deviation of all answers: infinite if some are, 0 if all are the same."""
        ends = self.values[[0, -1]]
        if np.isinf(ends).any():
            return np.inf
        return float(np.std(self.values, ddof=1)) if resolution.span(ends) else 0.0

    def quantile(self, shares):
        """The least answers that at least those shares of all do not exceed."""
        with np.errstate(invalid="ignore"):
            return np.quantile(self.values, shares, method="inverted_cdf")

    def share_below(self, limit):
        """Share of the answers that are less than a limit."""
        return float(np.mean(~resolution.at_least(self.values, limit)))

    def shortest(self, share):
        """Ends of the shortest interval that holds that share."""
        held = int(np.ceil(share * self.values.size * (1 - 1e-12)))
        starts, ends = self.values[: self.values.size - held + 1], self.values[held - 1 :]
        with np.errstate(invalid="ignore"):
            widths = ends - starts
        widths = np.where(np.isnan(widths), np.inf, widths)
        # Where infinities are too many to be left out, the interval begins as high as it can.
        best = int(np.argmin(widths)) if np.isfinite(widths).any() else starts.size - 1
        return np.array([starts[best], ends[best]])
