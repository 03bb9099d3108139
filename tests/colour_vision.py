"""How colours look to colour-blind readers and in grey, for the tests of palette and dashboard.

The simulation is that of Machado, Oliveira and Fernandes (2009), A physiologically-based model
for simulation of color vision deficiency, severity 1.0, applied to linear RGB; the matrices were
read in several open sources that agree. sRGB and CIELAB: IEC 61966-2-1 and CIE 15, white D65,
from memory. Contrast: WCAG 2.2, success criteria 1.4.3 and 1.4.11, from memory.
"""

Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]

SIGHT: dict[str, Matrix] = {
    "everybody": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
TO_XYZ: Matrix = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
WHITE: Vector = (0.95047, 1.0, 1.08883)
LEAST_DISTANCE = 10.0
"""In CIELAB; colours nearer than this are taken for each other in a legend."""


def linear(colour: str) -> Vector:
    def one(place: int) -> float:
        value = int(colour[place : place + 2], 16) / 255
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    return one(1), one(3), one(5)


def times(matrix: Matrix, vector: Vector) -> Vector:
    x, y, z = (sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix)
    return x, y, z


def lab(rgb: Vector) -> Vector:
    def root(value: float) -> float:
        return value ** (1 / 3) if value > 216 / 24389 else (24389 / 27 * value + 16) / 116

    x, y, z = (root(v / w) for v, w in zip(times(TO_XYZ, rgb), WHITE, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def seen(colour: str, sight: str) -> Vector:
    r, g, b = (min(1.0, max(0.0, part)) for part in times(SIGHT[sight], linear(colour)))
    return lab((r, g, b))


def distance(one: Vector, other: Vector) -> float:
    return sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5


def lightness(colour: str) -> float:
    return lab(linear(colour))[0]


def contrast(one: str, other: str) -> float:
    light = sorted((times(TO_XYZ, linear(colour))[1] for colour in (one, other)), reverse=True)
    return (light[0] + 0.05) / (light[1] + 0.05)
