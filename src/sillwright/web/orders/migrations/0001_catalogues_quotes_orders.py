"""Catalogues, quotes and orders; what became of them is only added to: the database refuses anything else."""

from __future__ import annotations

import uuid
from importlib import import_module
from typing import Any

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

_guards = import_module("sillwright.web.records.migrations.0002_only_added_to")
TABLES = ("orders_catalogueversion", "orders_quotestep", "orders_quotefile", "orders_ordernote")


def guard(apps: Any, editor: Any) -> None:
    _guards.guard(apps, editor, TABLES)


def unguard(apps: Any, editor: Any) -> None:
    _guards.unguard(apps, editor, TABLES)


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("accounts", "0002_session"),
        ("records", "0006_papers_of_quotes_and_orders"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="CatalogueVersion",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ("number", models.PositiveIntegerField()),
                ("name", models.CharField(max_length=200)),
                ("currency", models.CharField(max_length=3)),
                ("priced_on", models.CharField(max_length=10)),
                ("invented", models.BooleanField(default=False)),
                ("content", models.TextField()),
                ("fingerprint", models.CharField(max_length=64)),
                ("made", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="catalogues",
                        to="accounts.organisation",
                    ),
                ),
            ],
            options={
                "ordering": ["-number"],
            },
        ),
        migrations.CreateModel(
            name="Order",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ("number", models.PositiveIntegerField()),
                ("title", models.CharField(max_length=200)),
                ("to", models.TextField(blank=True)),
                ("lines", models.JSONField(default=list)),
                (
                    "state",
                    models.CharField(
                        choices=[("draft", "not released"), ("released", "released")], default="draft", max_length=8
                    ),
                ),
                ("revision", models.PositiveIntegerField(default=0)),
                ("made", models.DateTimeField(default=django.utils.timezone.now)),
                ("changed", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "catalogue",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="orders",
                        to="orders.catalogueversion",
                    ),
                ),
                (
                    "changed_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="orders",
                        to="accounts.organisation",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="orders", to="records.site"
                    ),
                ),
            ],
            options={
                "ordering": ["-made", "id"],
            },
        ),
        migrations.CreateModel(
            name="OrderNote",
            fields=[
                (
                    "id",
                    models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID"),
                ),
                ("line", models.PositiveIntegerField(default=0)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("release", "released"),
                            ("acknowledgement", "acknowledgement"),
                            ("answer", "answer"),
                            ("goods_in", "goods in"),
                            ("claim", "claim"),
                        ],
                        max_length=15,
                    ),
                ),
                ("told", models.JSONField(default=dict)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="notes", to="orders.order"
                    ),
                ),
                (
                    "paper",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.paper"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="Quote",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ("number", models.PositiveIntegerField()),
                ("title", models.CharField(max_length=200)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("draft", "draft"),
                            ("sent", "sent"),
                            ("accepted", "accepted"),
                            ("lost", "lost"),
                            ("expired", "expired"),
                        ],
                        default="draft",
                        max_length=8,
                    ),
                ),
                ("offered", models.JSONField(default=list)),
                ("to", models.TextField(blank=True)),
                ("words", models.TextField(blank=True)),
                ("exclusions", models.JSONField(default=list)),
                ("terms", models.TextField(blank=True)),
                ("valid_until", models.DateField()),
                ("ask_again_on", models.DateField(null=True)),
                ("revision", models.PositiveIntegerField(default=0)),
                ("made", models.DateTimeField(default=django.utils.timezone.now)),
                ("changed", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "catalogue",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="quotes",
                        to="orders.catalogueversion",
                    ),
                ),
                (
                    "changed_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="quotes",
                        to="accounts.organisation",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="quotes", to="records.site"
                    ),
                ),
            ],
            options={
                "ordering": ["-made", "id"],
            },
        ),
        migrations.AddField(
            model_name="order",
            name="quote",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.PROTECT, related_name="orders", to="orders.quote"
            ),
        ),
        migrations.CreateModel(
            name="QuoteFile",
            fields=[
                (
                    "id",
                    models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID"),
                ),
                ("ending", models.CharField(max_length=4)),
                (
                    "paper",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.paper"
                    ),
                ),
                (
                    "quote",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="files", to="orders.quote"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="QuoteStep",
            fields=[
                (
                    "id",
                    models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID"),
                ),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("draft", "draft"),
                            ("sent", "sent"),
                            ("accepted", "accepted"),
                            ("lost", "lost"),
                            ("expired", "expired"),
                        ],
                        max_length=8,
                    ),
                ),
                ("on", models.DateField()),
                ("name", models.CharField(max_length=200)),
                ("reason", models.TextField(blank=True)),
                ("alternative", models.CharField(blank=True, max_length=200)),
                ("frozen", models.JSONField(default=dict)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "quote",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="steps", to="orders.quote"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.AddConstraint(
            model_name="catalogueversion",
            constraint=models.UniqueConstraint(fields=("organisation", "number"), name="one_catalogue_a_number"),
        ),
        migrations.AddConstraint(
            model_name="ordernote",
            constraint=models.UniqueConstraint(
                condition=models.Q(("kind", "release")), fields=("order",), name="one_release_an_order"
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.UniqueConstraint(fields=("organisation", "number"), name="one_quote_a_number"),
        ),
        migrations.AddConstraint(
            model_name="order",
            constraint=models.UniqueConstraint(fields=("organisation", "number"), name="one_order_a_number"),
        ),
        migrations.AddConstraint(
            model_name="quotefile",
            constraint=models.UniqueConstraint(fields=("quote", "ending"), name="one_file_an_ending"),
        ),
        migrations.AddConstraint(
            model_name="quotestep",
            constraint=models.UniqueConstraint(fields=("quote", "state"), name="one_step_a_state"),
        ),
        migrations.RunPython(guard, unguard),
    ]
