"""Mechanics: how a leaf moves, touches and stops. Heavy libraries are loaded only by what needs them."""

from sillwright.mechanics._contact import contact as contact
from sillwright.mechanics.model import ContactCase as ContactCase
from sillwright.mechanics.model import ContactResult as ContactResult
from sillwright.mechanics.model import ContactTrace as ContactTrace
from sillwright.mechanics.model import Drive as Drive
from sillwright.mechanics.model import Edge as Edge
from sillwright.mechanics.model import Obstruction as Obstruction
from sillwright.mechanics.model import Stop as Stop
