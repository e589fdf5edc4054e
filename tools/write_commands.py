"""Writes docs/commands.md from the commands' own help: ``make commands``. A test compares them."""

from pathlib import Path

import click

from sillwright.cli.main import COMMANDS, sillwright

TARGET = Path(__file__).parents[1] / "docs/commands.md"


def text() -> str:
    """The page as it should stand."""
    parts = ["# Commands", "", "Written from the program's own help by `make commands`.", ""]
    for name in COMMANDS:
        command = sillwright.get_command(click.Context(sillwright), name)
        assert command is not None
        settings = {**sillwright.context_settings, "terminal_width": 100}
        context = click.Context(command, info_name=f"sillwright {name}", **settings)
        parts += [f"## sillwright {name}", "", "```text", command.get_help(context).strip(), "```", ""]
    return "\n".join(parts)


if __name__ == "__main__":
    TARGET.write_text(text(), encoding="utf-8")
