"""What is asked about people and organisations."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from sillwright.web.accounts.members import LONGEST_NAME
from sillwright.web.accounts.models import Invitation, Organisation, User
from sillwright.web.accounts.roles import Role
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Key
from sillwright.web.records.sites import name_of

KEY_LASTS = timedelta(days=365)
PASSWORD_ASKS = _(
    "12 to 128 signs. Several words in a row are easy to keep in mind. Common passwords are not taken."
)
ROLES = [(role.value, role.label) for role in Role]


class Name(forms.CharField):
    """A name: spaces put in order, nothing in it that a paper could not print."""

    def __init__(self, most: int, **more: Any) -> None:
        super().__init__(**more)
        self.most = most

    def clean(self, value: Any) -> str:
        """The name as it is kept."""
        words: str = super().clean(value)
        try:
            return name_of(words, self.most)
        except Refused as refused:
            raise ValidationError(str(refused)) from refused


class OrganisationForm(forms.Form):
    """An organisation's name and kind."""

    name = Name(LONGEST_NAME, label=_("Name"), widget=forms.TextInput(attrs={"autocomplete": "organization"}))
    kind = forms.ChoiceField(label=_("Kind"), choices=Organisation.KINDS)


class InviteForm(forms.Form):
    """Whom to invite, and as what."""

    role = forms.ChoiceField(label=_("Role"), choices=ROLES, initial=Role.TECHNICIAN.value)
    email = forms.EmailField(
        label=_("Mail address, if it is to be for one person alone"),
        help_text=_("Without an address whoever has the link can join, once."),
        required=False,
        widget=forms.EmailInput(attrs={"autocomplete": "off"}),
    )


class RoleForm(forms.Form):
    """Another role."""

    role = forms.ChoiceField(label=_("Role"), choices=ROLES)


class AccountForm(forms.Form):
    """A new account; where the invitation names an address, that one."""

    name = Name(100, label=_("Your name"), widget=forms.TextInput(attrs={"autocomplete": "name"}))
    email = forms.EmailField(
        label=_("Mail address"),
        help_text=_("You sign in with it."),
        widget=forms.EmailInput(attrs={"autocomplete": "username"}),
    )
    password = forms.CharField(
        label=_("Password"),
        help_text=PASSWORD_ASKS,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def __init__(self, invitation: Invitation, posted: Any = None) -> None:
        told = posted.copy() if posted is not None else None
        if invitation.email and told is not None:
            told["email"] = invitation.email
        super().__init__(told, initial={"email": invitation.email})
        if invitation.email:
            self.fields["email"].help_text = _("The invitation is for this address. You sign in with it.")
            self.fields["email"].widget.attrs["readonly"] = True

    def clean(self) -> dict[str, Any]:
        """Judge the password beside name and address."""
        told = super().clean() or self.cleaned_data
        password = told.get("password")
        if password:
            try:
                validate_password(password, User(email=told.get("email", ""), name=told.get("name", "")))
            except ValidationError as wrong:
                self.add_error("password", wrong)
        return told


class MeForm(forms.Form):
    """What a person may say of oneself."""

    name = Name(100, label=_("Name"), widget=forms.TextInput(attrs={"autocomplete": "name"}))
    units = forms.ChoiceField(
        label=_("Units"),
        choices=User.UNITS,
        help_text=_("Lengths, weights and forces are shown this way. What you type may have any unit."),
    )


class Day(forms.DateInput):
    """A day, with the browser's own calendar."""

    input_type = "date"


class KeyForm(forms.Form):
    """A token for a program: what it may do, and until when."""

    name = Name(100, label=_("What it is for"), widget=forms.TextInput(attrs={"autocomplete": "off"}))
    scope = forms.ChoiceField(
        label=_("The program"), choices=Key._meta.get_field("scope").choices or [], initial="read"
    )
    ends = forms.DateField(
        label=_("Last day"), help_text=_("A year from today at most."), widget=Day(format="%Y-%m-%d")
    )

    def __init__(self, posted: Any = None) -> None:
        super().__init__(posted, initial={"ends": timezone.now().date() + timedelta(days=90)})

    def clean_ends(self) -> date:
        """A day from today to a year on."""
        day: date = self.cleaned_data["ends"]
        today = timezone.now().date()
        if not today <= day <= today + KEY_LASTS:
            raise ValidationError(_("The last day lies between today and a year from today."))
        return day


class TrailForm(forms.Form):
    """Which days of the audit trail are shown."""

    since = forms.DateField(label=_("From"), required=False, widget=Day(format="%Y-%m-%d"))
    until = forms.DateField(label=_("To"), required=False, widget=Day(format="%Y-%m-%d"))

    def clean(self) -> dict[str, Any]:
        """The first day is not after the last."""
        told = super().clean() or self.cleaned_data
        since, until = told.get("since"), told.get("until")
        if since and until and since > until:
            self.add_error("until", _("The last day lies before the first."))
        return told
