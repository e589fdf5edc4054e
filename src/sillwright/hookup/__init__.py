"""How a device is joined to an operator's input: directly, through a converter, or not; how it is wired."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sillwright.hookup._hook_up import hook_up as hook_up
    from sillwright.hookup._join import join as join
    from sillwright.hookup.answer import Hookup as Hookup
    from sillwright.hookup.answer import Joint as Joint

_WHERE = {"hook_up": "_hook_up", "join": "_join", "Hookup": "answer", "Joint": "answer"}


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
