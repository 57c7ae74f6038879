"""What are lessons made with? Panels, fields, predictions, exercises, known answers, words, pages.

Import by module, for example `from workshop_lib.teaching import predict`. Importing this package
itself loads nothing, so that a lesson pays only for what it uses.
"""
