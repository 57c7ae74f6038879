"""What teaches: drawings, charts, pages, panels, predictions, exercises and known answers.

Import by module, for example `from workshop_lib.drawings import drawing`. Importing this package
itself loads nothing, so that a lesson pays only for what it uses.
"""
