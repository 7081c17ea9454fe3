"""What can stand on a panel."""

from demo_photos.frustum import Frustum
from demo_photos.slab import Slab

Thing = Frustum | Slab
