"""Calls, how they ended, and substitute parts; all of it is only added to: the database refuses anything else."""

from __future__ import annotations

import uuid
from importlib import import_module
from typing import Any

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

_guards = import_module("sillwright.web.records.migrations.0002_only_added_to")
TABLES = ("trouble_keptcall", "trouble_callend", "trouble_substitute", "trouble_substituteout")


def guard(apps: Any, editor: Any) -> None:
    _guards.guard(apps, editor, TABLES)


def unguard(apps: Any, editor: Any) -> None:
    _guards.unguard(apps, editor, TABLES)


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("records", "0006_papers_of_quotes_and_orders"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="KeptCall",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, primary_key=True, serialize=False)),
                ("caller", models.CharField(blank=True, max_length=200)),
                ("words", models.CharField(blank=True, max_length=1000)),
                ("started", models.DateTimeField()),
                ("kept", models.DateTimeField(default=django.utils.timezone.now)),
                ("call", models.JSONField(default=dict)),
                ("fingerprint", models.CharField(max_length=64)),
                ("advice", models.JSONField(default=dict)),
                (
                    "author",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "opening",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="calls", to="records.opening"
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="calls", to="records.site"
                    ),
                ),
            ],
            options={
                "ordering": ["-kept", "id"],
            },
        ),
        migrations.CreateModel(
            name="CallEnd",
            fields=[
                (
                    "id",
                    models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID"),
                ),
                ("faults", models.JSONField(null=True)),
                ("minutes", models.PositiveIntegerField(null=True)),
                ("words", models.CharField(blank=True, max_length=1000)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "call",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="ends", to="trouble.keptcall"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="Substitute",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, primary_key=True, serialize=False)),
                ("number", models.CharField(max_length=20)),
                ("place", models.CharField(max_length=100)),
                ("member", models.CharField(max_length=20)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "opening",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="substitutes",
                        to="records.opening",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="substitutes", to="records.site"
                    ),
                ),
            ],
            options={
                "ordering": ["at", "id"],
            },
        ),
        migrations.CreateModel(
            name="SubstituteOut",
            fields=[
                (
                    "id",
                    models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID"),
                ),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "photo",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.photo"
                    ),
                ),
                (
                    "substitute",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="out", to="trouble.substitute"
                    ),
                ),
            ],
        ),
        migrations.AddIndex(
            model_name="keptcall",
            index=models.Index(fields=["opening", "-kept"], name="calls_of_an_opening"),
        ),
        migrations.RunPython(guard, unguard),
    ]
