"""Style sheets and scripts under names that change with their content, so that browsers may keep them for ever."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class Hashed(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """Names with a hash, also where one script imports another; a name that is missing is an error at start."""

    support_js_module_import_aggregation = True
    max_post_process_passes = 20  # one more for every script in a chain of imports; Django stops at five
