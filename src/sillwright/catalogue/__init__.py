"""The catalogue: device classes, profiles, channels, cords, operators' inputs, work and prices."""

from sillwright.catalogue._demo import demo as demo
from sillwright.catalogue.model import FORMAT as FORMAT
from sillwright.catalogue.model import Catalogue as Catalogue
from sillwright.catalogue.profile import Profile as Profile
