"""What do the lessons show and ask? One package each, with its panels and exercises.

Their order is `workshop_lib.teaching.task_list.COURSE`.
"""

from workshop_lib.teaching.start import wake

wake()
