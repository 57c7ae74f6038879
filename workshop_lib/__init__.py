"""How is a disc without a hole turned from thin sheet? The calculations behind the lessons.

Import the module that answers the question, for example ``from workshop_lib import slip``. This
file imports nothing, so that any Python can read it and start the command line (``__main__.py``).
"""

__version__ = "0.1.0"
