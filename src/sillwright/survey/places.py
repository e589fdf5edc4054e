"""Countries and their parts, by ISO 3166."""

from __future__ import annotations

import unicodedata
from functools import cache

from sillwright.base.words import N_, say


def country_mistake(country: str, subdivision: str | None) -> tuple[str, str, str] | None:
    """What is wrong with a country or its part: key, message, what would be right. None where both exist.

    >>> country_mistake("US", "WA") is None
    True
    >>> country_mistake("us", None)
    ('country', 'not an ISO 3166-1 country code', 'did you mean “US”?')

    Source: ISO 3166-1 and 3166-2, as a general-purpose library carries them.
    """
    import pycountry  # reads its tables at first use

    found = pycountry.countries.get(alpha_2=country)
    if found is None or found.alpha_2 != country:
        try:
            meant = pycountry.countries.lookup(country.strip()).alpha_2
            accepted = say(N_("did you mean “{word}”?"), word=meant)
        except LookupError:
            accepted = say(N_("two capital letters, for example US, GB, DE"))
        return "country", say(N_("not an ISO 3166-1 country code")), accepted
    if subdivision is None:
        return None
    part = pycountry.subdivisions.get(code=f"{country}-{subdivision}")
    if part is None or part.code != f"{country}-{subdivision}":
        accepted = say(N_("its ISO 3166-2 code without the country, for example WA"))
        return "subdivision", say(N_("not a part of {country}"), country=country), accepted
    return None


@cache
def countries() -> tuple[tuple[str, str], ...]:
    """Code and name of every country, in the order of their names.

    >>> dict(countries())["US"], len(countries()[0][0])
    ('United States', 2)
    """
    import pycountry

    named = [(each.alpha_2, getattr(each, "common_name", each.name)) for each in pycountry.countries]
    return tuple(sorted(named, key=lambda pair: unicodedata.normalize("NFKD", pair[1]).casefold()))
