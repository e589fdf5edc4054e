"""States of the database as versions wrote them, kept so that every later version is tried on them.

``python -m tests.web.state`` writes ``tests/web/data/state-<version>.jsonl`` from a small invented world: the
manifest of a backup, then its rows. Do so when a version is released; what is there already is never written again.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

from sillwright import __version__
from sillwright.web.serving.archive import Writing

FOLDER = Path(__file__).parent / "data"


def as_backup(state: Path, file: Path) -> Path:
    """A state as the file that ``sillwright restore`` reads; it has no papers' files."""
    head, *lines = state.read_text("utf-8").splitlines()
    manifest: dict[str, Any] = json.loads(head)
    with tempfile.TemporaryDirectory() as aside, file.open("wb") as out:
        writing = Writing(out)
        for label in manifest["rows"]:
            part = Path(aside) / label
            part.write_text(
                "".join(f"{json.dumps(row)}\n" for table, row in map(json.loads, lines) if table == label)
            )
            writing.add(f"data/{label}.jsonl", part)
        writing.end(manifest["version"], manifest["migrations"], manifest["rows"])
    return file


def _small_world() -> None:
    """Two organisations, an owner and a technician, one site with two openings; every kind of observation."""
    from sillwright.web.accounts.models import Membership, Organisation, User
    from sillwright.web.records.log import Said, write
    from sillwright.web.records.sites import make_opening, make_site, share

    dealer, other = (Organisation.objects.create(name=name) for name in ("Harbour Doors", "Pier Owners"))
    people = []
    for role in ("owner", "technician"):
        people.append(User.objects.create_user(f"{role}@people.example", name=role.title()))
        Membership.objects.create(user=people[-1], organisation=dealer, role=role)
    site = make_site(dealer, "Quillback Sheds", "US", author=people[0])
    share(site, other, "read", author=people[0])
    for tag in ("B1", "B2"):
        opening = make_opening(site, tag, author=people[0])
        for fact, typed in (
            ("door.kind", "sectional"),
            ("door.clear_width", "10 ft"),
            ("door.clear_height", "12 ft"),
        ):
            first = write(site, opening, Said(fact=fact, typed=typed, origin="measured"), author=people[1])
        seen = (str(first.pk),)
        write(site, opening, Said(fact="door.clear_height", typed="12 ft 1 in", replaces=seen), author=people[0])
        write(site, opening, Said(fact="door.clear_width", typed="10 ft 2 in"), author=people[0])
        write(site, opening, Said(fact="operator.made", says="unknown"), author=people[1])
        edge = write(site, opening, Said(fact="protection.e1.kind", typed="sensing_edge"), author=people[1])
        away = Said(fact="protection.e1", says="removed", replaces=(str(edge.pk),))
        write(site, opening, away, author=people[1])


def main() -> None:
    """Write the state of this version."""
    target = FOLDER / f"state-{__version__}.jsonl"
    if target.exists():
        sys.exit(f"{target}: is there already")
    os.environ["SILLWRIGHT_DATA"] = tempfile.mkdtemp()
    from sillwright.web.serving.folder import data_folder, set_up, use
    from sillwright.web.serving.preparing import prepare

    folder = data_folder()
    use(folder)
    set_up()
    prepare(folder)
    _small_world()
    from sillwright.web.serving.backup import write_backup
    from tests.web.backups import parts_of

    write_backup(folder, folder / "state.tar")
    parts = parts_of(folder / "state.tar")
    manifest = json.loads(parts["manifest.json"])
    lines = [json.dumps({name: manifest[name] for name in ("version", "migrations", "rows")})]
    for label in manifest["rows"]:
        lines += [json.dumps([label, json.loads(row)]) for row in parts[f"data/{label}.jsonl"].splitlines()]
    target.write_text("\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
