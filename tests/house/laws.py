"""A law held for very many cases is one test, which names every case that breaks it."""

import inspect
import itertools


def held_for(*axes):
    """Run a test for every combination of the axes' values.

    The law takes one argument for each axis; with a single axis of tuples, one for each part.
    """

    def decorate(law):
        spread = len(inspect.signature(law).parameters) > len(axes) == 1

        def test():
            broken, cases = [], 0
            for values in itertools.product(*axes):
                given = values[0] if spread else values
                cases += 1
                try:
                    law(*given)
                except AssertionError as error:
                    broken.append(f"{given}: {error}")
            assert cases and not broken, f"{len(broken)} of {cases}\n" + "\n".join(broken[:20])

        test.__name__, test.__doc__, test.__module__ = law.__name__, law.__doc__, law.__module__
        return test

    return decorate
