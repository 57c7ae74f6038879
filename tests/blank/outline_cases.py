"""Outlines that the tests of blanks share: by hand, and drawn at random with a fixed seed."""

import numpy as np
import shapely

SIZE = 0.05  # m


def convex(draw, points=30):
    """Return the convex hull of random points, anticlockwise."""
    cloud = shapely.MultiPoint(draw.uniform(-SIZE, SIZE, (points, 2)))
    return np.array(shapely.orient_polygons(cloud.convex_hull).exterior.coords)[:-1]


def star(draw, points=24):
    """Return an outline that the origin sees whole, anticlockwise, seldom convex."""
    angle = 2 * np.pi * (np.arange(points) + draw.uniform(0.1, 0.9, points)) / points
    radius = draw.uniform(0.4, 1.0, points) * SIZE
    return np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=1)


def tangled(draw, points=9):
    """Return a random simple outline: most have hooks that no place sees whole."""
    while True:
        corners = draw.uniform(-SIZE, SIZE, (points, 2))
        if shapely.Polygon(corners).is_valid:
            return corners


def drawn(make, count, seed=5, **keywords):
    """Return that many outlines of one kind."""
    draw = np.random.default_rng(seed)
    return [make(draw, **keywords) for _ in range(count)]


# An L of two arms 20 mm wide and 50 mm long; and a block with a hook that reaches back over it.
L_SHAPE = np.array([[0, 0], [50, 0], [50, 20], [20, 20], [20, 50], [0, 50]]) * 1e-3
HOOK = np.array([[0, 0], [60, 0], [60, 70], [20, 70], [20, 62], [52, 62], [52, 50], [0, 50]]) * 1e-3
