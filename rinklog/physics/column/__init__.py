"""One column of rink marched through weather: many zones and ensemble members at once, as arrays.

Cells are parcels of water substance, top to bottom, each with its mass and its heat. Nothing moves between
parcels but heat, so mass is kept by construction and heat to rounding. A parcel that is partly frozen keeps
how much of its ice hangs on its upper and on its lower side: the fronts lie inside it and need no fine grid.

settings (what is constant), state (what is marched), forcing (weather as coefficients), balance (surface),
stack, averaging, implicit (one step of heat), layers (split and merge parcels), wetting (snow, rain, slush),
actions, marching
"""

from rinklog.physics.column.actions import Action
from rinklog.physics.column.forcing import Weather
from rinklog.physics.column.marching import Record, march
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.state import Column

__all__ = ["Action", "Column", "Record", "Settings", "Weather", "march"]
