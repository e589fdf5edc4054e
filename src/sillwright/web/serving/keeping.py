"""What a backup holds, and what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass

FORMAT = "sillwright-backup/1"

# In an order in which every row finds what it names.
KEPT = (
    "accounts.user", "accounts.organisation", "accounts.membership", "accounts.invitation", "account.emailaddress",
    "mfa.authenticator", "records.site", "records.share", "records.opening", "records.observation", "records.fact",
    "records.paper", "records.link", "records.remark", "records.photo", "records.question", "records.key",
    "records.event", "orders.catalogueversion", "orders.quote", "orders.quotestep", "orders.quotefile",
    "orders.order", "orders.ordernote", "trouble.keptcall", "trouble.callend", "trouble.substitute",
    "trouble.substituteout", "lesson.lesson", "lesson.lessonstep", "lesson.attendance",
)  # fmt: skip
# Sessions end with a restore; answers are made anew; Django's own permissions are not used.
LEFT_OUT = (
    "accounts.session", "usersessions.usersession", "account.emailconfirmation", "records.answer", "records.once",
    "auth.group", "auth.permission", "contenttypes.contenttype", "sessions.session", "accounts.user_groups",
    "accounts.user_user_permissions", "auth.group_permissions",
)  # fmt: skip


@dataclass(frozen=True)
class Count:
    """How much was written or read."""

    rows: int
    papers: int
    photos: int
    odd: int = 0
    """Of a backup: papers and photos whose file is gone. Of a restore: facts that were made anew from the log."""
