"""Wiring sheets, by name."""

from __future__ import annotations

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0006_papers_of_quotes_and_orders"),
    ]

    operations = [
        migrations.AlterField(
            model_name="paper",
            name="kind",
            field=models.CharField(
                choices=[
                    ("report", "report"),
                    ("elevation", "elevation"),
                    ("answer", "answer for programs"),
                    ("dxf", "elevation for the drawing office"),
                    ("install", "install sheet"),
                    ("wiring", "wiring sheet"),
                    ("scribe", "scribe"),
                    ("scribe_dxf", "scribe for the drawing office"),
                    ("quote", "quote"),
                    ("order", "order"),
                ],
                max_length=10,
            ),
        ),
    ]
