"""Countries and their parts, by ISO 3166."""

from __future__ import annotations


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
            said = f"did you mean “{pycountry.countries.lookup(country.strip()).alpha_2}”?"
        except LookupError:
            said = "two capital letters, for example US, GB, DE"
        return "country", "not an ISO 3166-1 country code", said
    if subdivision is None:
        return None
    part = pycountry.subdivisions.get(code=f"{country}-{subdivision}")
    if part is None or part.code != f"{country}-{subdivision}":
        return (
            "subdivision",
            f"not a part of {country}",
            "its ISO 3166-2 code without the country, for example WA",
        )
    return None
