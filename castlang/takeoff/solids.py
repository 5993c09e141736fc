"""Closed forms of plain bodies. Every formula stands here once; lengths m, areas m2, volumes m3.

Unless a docstring says otherwise the source is Machinery's Handbook, 31st edition (2020), mensuration of
areas p. 80 and of volumes pp. 89 to 93. The forms hold in any unit of length, as all are of one degree.
Range: every length >= 0; each function says what else it needs.
"""

from fractions import Fraction

from castlang.takeoff.grid import PI, root


def circle(dia: Fraction) -> Fraction:
    """pi/4 d^2."""
    return PI / 4 * dia * dia


def ring(outer: Fraction, inner: Fraction) -> Fraction:
    """A flat ring: pi/4 (D^2 - d^2), with inner <= outer."""
    return PI / 4 * (outer * outer - inner * inner)


def cylinder(dia: Fraction, high: Fraction) -> Fraction:
    """Volume: pi/4 d^2 h."""
    return circle(dia) * high


def cylinder_side(dia: Fraction, high: Fraction) -> Fraction:
    """Curved surface: pi d h."""
    return PI * dia * high


def tube(dia: Fraction, wall: Fraction, high: Fraction) -> Fraction:
    """Volume of a hollow cylinder: pi h t (D - t), with 2 t <= D."""
    return PI * high * wall * (dia - wall)


def frustum(top: Fraction, foot: Fraction, high: Fraction) -> Fraction:
    """Volume of a cone frustum: pi h/12 (D^2 + D d + d^2)."""
    return PI * high / 12 * (top * top + top * foot + foot * foot)


def frustum_side(top: Fraction, foot: Fraction, slant: Fraction) -> Fraction:
    """Curved surface of a cone frustum: pi/2 (D + d) s."""
    return PI / 2 * (top + foot) * slant


def frustum_slant(top: Fraction, foot: Fraction, high: Fraction) -> Fraction:
    """Slant height of a cone frustum: the root of ((D - d)/2)^2 + h^2."""
    return root((top - foot) ** 2 / 4 + high * high)


def pyramid_frustum(first: Fraction, second: Fraction, high: Fraction) -> Fraction:
    """Volume between two like faces of areas A1 and A2: h/3 (A1 + A2 + root(A1 A2))."""
    return high / 3 * (first + second + root(first * second))


def wedge(foot_long: Fraction, edge_long: Fraction, wide: Fraction, high: Fraction) -> Fraction:
    """Volume of a wedge on a foot a by b with an edge c: (2 a + c) b h/6."""
    return (2 * foot_long + edge_long) * wide * high / 6


def prismoid(first: Fraction, middle: Fraction, second: Fraction, high: Fraction) -> Fraction:
    """Volume from three section areas: h/6 (A1 + 4 Am + A2); exact where the area is a polynomial of the
    height of degree three or less."""
    return high / 6 * (first + 4 * middle + second)


def sphere(dia: Fraction) -> Fraction:
    """Volume: pi/6 d^3."""
    return PI / 6 * dia**3


def sphere_area(dia: Fraction) -> Fraction:
    """pi d^2."""
    return PI * dia * dia


def hollow_sphere(outer: Fraction, inner: Fraction) -> Fraction:
    """Volume between two radii about one centre: 4/3 pi (R^3 - r^3)."""
    return PI * 4 / 3 * (outer**3 - inner**3)


def cap_radius(chord: Fraction, high: Fraction) -> Fraction:
    """Radius of the sphere of a cap: (c^2/4 + h^2) / (2 h), with h > 0."""
    return (chord * chord / 4 + high * high) / (2 * high)


def cap(radius: Fraction, high: Fraction) -> Fraction:
    """Volume of a spherical cap: pi h^2 (r - h/3), with h <= 2 r."""
    return PI * high * high * (radius - high / 3)


def cap_area(radius: Fraction, high: Fraction) -> Fraction:
    """Curved surface of a cap, and of a zone of that height: 2 pi r h."""
    return 2 * PI * radius * high


def zone(first: Fraction, second: Fraction, high: Fraction) -> Fraction:
    """Volume of a sphere between two flat cuts of diameters c1 and c2: pi h/6 (3 c1^2/4 + 3 c2^2/4 + h^2)."""
    return PI * high / 6 * (3 * first * first / 4 + 3 * second * second / 4 + high * high)


def torus(mean: Fraction, section: Fraction) -> Fraction:
    """Volume of a ring of round section: pi^2/4 D d^2, D the mean diameter."""
    return PI * PI / 4 * mean * section * section


def torus_area(mean: Fraction, section: Fraction) -> Fraction:
    """Surface of a ring of round section: pi^2 D d."""
    return PI * PI * mean * section


def fillet(radius: Fraction) -> Fraction:
    """Section of what a rounding of radius r leaves in a square corner: (1 - pi/4) r^2."""
    return (1 - PI / 4) * radius * radius
