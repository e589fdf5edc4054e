"""Finding the fault: harm first, then the step that shortens the way to the right repair. Loaded on first use."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sillwright.trouble._diagnose import diagnose as diagnose
    from sillwright.trouble.advising import advise as advise
    from sillwright.trouble.answer import Advice as Advice
    from sillwright.trouble.answer import Call as Call
    from sillwright.trouble.book import fault_book as fault_book
    from sillwright.trouble.diagnose_model import DiagnoseCase as DiagnoseCase
    from sillwright.trouble.diagnose_model import DiagnoseResult as DiagnoseResult
    from sillwright.trouble.diagnose_model import GivenAnswer as GivenAnswer
    from sillwright.trouble.diagnose_model import GivenFact as GivenFact
    from sillwright.trouble.leading import lead as lead
    from sillwright.trouble.model import FaultModel as FaultModel

_WHERE = {
    "Advice": "answer",
    "Call": "answer",
    "DiagnoseCase": "diagnose_model",
    "DiagnoseResult": "diagnose_model",
    "FaultModel": "model",
    "GivenAnswer": "diagnose_model",
    "GivenFact": "diagnose_model",
    "advise": "advising",
    "diagnose": "_diagnose",
    "fault_book": "book",
    "lead": "leading",
}


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
