"""Photos as files: what a page shows, and what is looked at alone."""

from __future__ import annotations

import logging
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.paper.writing import slug
from sillwright.web.answers.files import as_file
from sillwright.web.pages.refusals import not_found, refused
from sillwright.web.records.arriving import content_of
from sillwright.web.records.models import Photo
from sillwright.web.records.papers import Damaged
from sillwright.web.records.seen import fetched

log = logging.getLogger("sillwright.photos")

KEPT_BY_A_BROWSER = 7 * 24 * 3600  # s; a photo never changes, and nobody on the way keeps it


@require_safe
def photo(request: HttpRequest, id: UUID) -> HttpResponse:
    """A photo as a JPEG; with ``?small`` as a small one. There is none while it is on its way, or was refused."""
    found = fetched(Photo.objects.select_related("opening"), request.user, id)
    if found.state != "kept":
        return not_found(request)
    try:
        content = content_of(found, small="small" in request.GET)
    except Damaged:
        log.error("damaged", extra={"facts": {"photo": str(found.pk)}})
        words = _("The file of this photo is not on this server any more. Take the photo again.")
        return refused(request, 410, _("This photo is gone"), words)
    about = "-".join(filter(None, (slug(found.opening.tag)[:60], found.shot, str(found.pk)[:8])))
    response = as_file(content, "image/jpeg", f"{about}.jpg", download=False)
    response["Cache-Control"] = f"private, max-age={KEPT_BY_A_BROWSER}, immutable"
    patch_vary_headers(response, ("Cookie",))
    return response
