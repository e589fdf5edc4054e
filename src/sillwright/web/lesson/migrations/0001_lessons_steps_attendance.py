"""Lessons, the steps of a class, and who was there; all of it is only added to: the database refuses anything else."""

from __future__ import annotations

import uuid
from importlib import import_module
from typing import Any

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

_guards = import_module("sillwright.web.records.migrations.0002_only_added_to")
TABLES = ("lesson_lesson", "lesson_lessonstep", "lesson_attendance")


def guard(apps: Any, editor: Any) -> None:
    _guards.guard(apps, editor, TABLES)


def unguard(apps: Any, editor: Any) -> None:
    _guards.unguard(apps, editor, TABLES)


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("accounts", "0002_session"),
        ("records", "0002_only_added_to"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Lesson",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, primary_key=True, serialize=False)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                ("code", models.CharField(max_length=12, unique=True)),
                ("seed", models.PositiveBigIntegerField()),
                ("symptom", models.CharField(max_length=40)),
                ("faults", models.JSONField(default=list)),
                ("facts", models.JSONField(default=list)),
                ("language", models.CharField(default="en", max_length=10)),
                ("best", models.JSONField(default=dict)),
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
                        related_name="lessons",
                        to="accounts.organisation",
                    ),
                ),
            ],
            options={
                "ordering": ["-at", "id"],
            },
        ),
        migrations.CreateModel(
            name="Attendance",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, primary_key=True, serialize=False)),
                ("name", models.CharField(max_length=100)),
                ("signature", models.JSONField(default=list)),
                ("written", models.CharField(blank=True, max_length=100)),
                ("result", models.CharField(max_length=10)),
                ("day", models.DateField()),
                ("months", models.PositiveSmallIntegerField(default=12)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "corrects",
                    models.OneToOneField(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="corrected_by",
                        to="lesson.attendance",
                    ),
                ),
                (
                    "lesson",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="attendance", to="lesson.lesson"
                    ),
                ),
            ],
            options={
                "ordering": ["at", "id"],
            },
        ),
        migrations.CreateModel(
            name="LessonStep",
            fields=[
                (
                    "id",
                    models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID"),
                ),
                ("kind", models.CharField(max_length=10)),
                ("name", models.CharField(blank=True, max_length=60)),
                ("outcome", models.CharField(blank=True, max_length=60)),
                ("minutes", models.FloatField(default=0.0)),
                ("helped", models.BooleanField(default=False)),
                ("ended", models.CharField(blank=True, max_length=10)),
                ("at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "lesson",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="steps", to="lesson.lesson"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("lesson", "kind", "name"), name="a_step_is_made_once")
                ],
            },
        ),
        migrations.RunPython(guard, unguard),
    ]
