"""What fittings are made of."""

from demo_photos.skin import Material

BAKELITE = Material((0.022, 0.019, 0.018), rough=0.24)
STEEL = Material((0.50, 0.49, 0.47), metal=1.0, rough=0.36)
BRASS = Material((0.66, 0.50, 0.24), metal=1.0, rough=0.34)
NICKEL = Material((0.66, 0.63, 0.58), metal=1.0, rough=0.22)
BLACK = Material((0.006, 0.006, 0.006), rough=0.8)
IVORY = Material((0.78, 0.74, 0.62), rough=0.5)
