"""The catalogues of an organisation: brought, listed, and the one that counts."""

from __future__ import annotations

from functools import lru_cache
from uuid import UUID

from django.db import transaction
from django.db.models import F, Max
from django.http import HttpRequest
from django.utils.translation import gettext as _

from sillwright.catalogue import Catalogue
from sillwright.catalogue.reading import catalogue_of
from sillwright.catalogue.writing import catalogue_as_yaml, fingerprint
from sillwright.web.accounts.models import Organisation, User
from sillwright.web.orders.models import CatalogueVersion
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Site


@transaction.atomic
def bring(
    organisation: Organisation, catalogue: Catalogue, by: User, *, request: HttpRequest | None = None
) -> CatalogueVersion:
    """Keep a catalogue as the newest version. Raises :class:`Refused` where it is the one that counts already."""
    held = Organisation.objects.select_for_update().get(pk=organisation.pk)
    mark, newest = fingerprint(catalogue), newest_of(held)
    if newest is not None and newest.fingerprint == mark:
        raise Refused(_("This catalogue is the one that counts already; nothing was changed."))
    last = CatalogueVersion.objects.filter(organisation=held).aggregate(last=Max("number"))["last"] or 0
    made = CatalogueVersion.objects.create(
        organisation=held,
        number=last + 1,
        name=catalogue.name[:200],
        currency=catalogue.currency,
        priced_on=catalogue.priced_on,
        invented=catalogue.invented,
        content=catalogue_as_yaml(catalogue),
        fingerprint=mark,
        by=by,
    )
    # Studies and kept pages are made from it: every site of the organisation is judged anew.
    Site.objects.filter(organisation=held).update(revision=F("revision") + 1)
    record(
        request, "catalogue brought", f"{made.name}, version {made.number}", who=by, organisation=held, after=mark
    )
    return made


def newest_of(organisation: Organisation | UUID) -> CatalogueVersion | None:
    """The version that counts; None where the organisation has brought none."""
    key = organisation.pk if isinstance(organisation, Organisation) else organisation
    return CatalogueVersion.objects.filter(organisation_id=key).order_by("-number").first()


def catalogue_for(site: Site) -> Catalogue | None:
    """The catalogue that a site is studied with: the newest of whose site it is."""
    found = newest_of(site.organisation_id)
    return read(found) if found else None


def read(version: CatalogueVersion) -> Catalogue:
    """The catalogue that a version holds."""
    return _read(version.fingerprint, version.content)


@lru_cache(maxsize=8)
def _read(fingerprint: str, content: str) -> Catalogue:
    """Reading takes long beside looking it up; what a fingerprint names never changes."""
    return catalogue_of(content.encode(), f"catalogue {fingerprint[:8]}")
