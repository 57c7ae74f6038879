"""What do copies of lessons made before the end of November 2026 ask for? Their owner is told."""


class EarlierEdition(ImportError):
    """A copy of a lesson that this edition of the workbook can no longer run."""

    def _render_traceback_(self):
        return [str(self)]


raise EarlierEdition(
    "This copy of the lesson belongs to an earlier edition of the workbook. In the workbook's "
    "folder type  python3 -m workshop_lib open  : the new edition is saved alongside this copy, "
    "which stays as it is, and your answers are there in the new one."
)
