"""A class on one machine: many learners at once through JupyterHub, each with a system account.

`command` reads what the teacher types, `class_list` the list of learners; `places` says where all
lies, `accounts` makes system accounts. `hub` makes the environment and runs the hub, `settings`
writes its configuration, `spawning` gives each server its port. `seat` runs as the learner and
hands the lessons out (`handing_out`); `forgetting` runs in the hub's environment. No lesson imports
anything from here.
"""
