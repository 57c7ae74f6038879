"""The plate on springs, solved as a boundary value problem with Bessel functions of its own.

For a full pad each harmonic is A J_n(z) + B J_n(z') inside, z = r e^(i pi/4)/l (a Kelvin function
in real and imaginary part), and four powers and logarithms of the radius outside. Six conditions,
taken in 40 digits by mpmath; nothing is shared with the library's elements.
"""

import mpmath

DIGITS = 40


def _outside(n):
    """Four solutions of grad⁴ w = 0 beyond the pad, as functions of the radius."""
    if n == 0:
        return (lambda r: mpmath.mpf(1), mpmath.log, lambda r: r**2, lambda r: r**2 * mpmath.log(r))
    if n == 1:
        return (lambda r: r, lambda r: 1 / r, lambda r: r**3, lambda r: r * mpmath.log(r))
    return tuple((lambda r, p=p: r**p) for p in (n, -n, n + 2, 2 - n))


def _inside(n, kappa):
    """Two solutions of grad⁴ w + kappa w = 0 that stay finite in the middle."""
    scale = mpmath.mpf(kappa) ** mpmath.mpf("0.25") * mpmath.expjpi(mpmath.mpf(1) / 4)
    return (
        lambda r: mpmath.re(mpmath.besselj(n, scale * r)),
        lambda r: mpmath.im(mpmath.besselj(n, scale * r)),
    )


def _laws(w, n, nu, r):
    """Value, slope, bending moment and edge shear (up to the sign) of w(r) cos n theta."""
    w0, w1, w2, w3 = (mpmath.diff(w, r, k) for k in range(4))
    moment = w2 + nu * (w1 / r - n**2 * w0 / r**2)
    swirl = w3 + w2 / r - w1 / r**2 - n**2 * (w1 / r**2 - 2 * w0 / r**3)
    shear = swirl - (1 - nu) * n**2 * (w1 / r**2 - w0 / r**3)
    return w0, w1, moment, shear


def rim_of_harmonic(n, ratio, nu, kappa):
    """Rim deflection of harmonic n over F a²/D, disc radius 1, springs under r < ratio."""
    with mpmath.workdps(DIGITS):
        ratio, nu = mpmath.mpf(ratio), mpmath.mpf(nu)
        inner, outer = _inside(n, kappa), _outside(n)
        rows = []
        at_edge = [_laws(w, n, nu, ratio) for w in inner]
        beyond = [_laws(w, n, nu, ratio) for w in outer]
        for law in range(4):
            rows.append([one[law] for one in at_edge] + [-one[law] for one in beyond])
        at_rim = [_laws(w, n, nu, mpmath.mpf(1)) for w in outer]
        rows.append([0, 0] + [one[2] for one in at_rim])
        rows.append([0, 0] + [one[3] for one in at_rim])
        load = -1 / (mpmath.pi * (2 if n == 0 else 1))
        wanted = mpmath.matrix([0, 0, 0, 0, 0, load])
        found = mpmath.lu_solve(mpmath.matrix(rows), wanted)
        return float(sum(found[2 + k] * outer[k](mpmath.mpf(1)) for k in range(4)))
