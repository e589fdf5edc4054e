"""Three tables of the plain page."""

from __future__ import annotations

from typing import Any

from django.db import models


class Place(models.Model):
    name: Any = models.CharField(max_length=100)
    owner: Any = models.ForeignKey("auth.User", models.CASCADE)


class Item(models.Model):
    place: Any = models.ForeignKey(Place, models.CASCADE)
    name: Any = models.CharField(max_length=100)
    value: Any = models.CharField(max_length=100)


class Note(models.Model):
    place: Any = models.ForeignKey(Place, models.CASCADE)
    words: Any = models.TextField()
    at: Any = models.DateTimeField(auto_now_add=True)
