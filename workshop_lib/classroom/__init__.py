"""How does a class work on one machine? Many learners through JupyterHub, each with an account.

`command` reads what the teacher types; `places` says where all lies and `accounts` makes accounts.
`hub` makes the environment and runs the hub, `settings` judges what the teacher chose and sets it
up, and `in_hub` is what the hub does our way. `seat` runs as the learner and hands the lessons out.
The folder `kubernetes` is for more than one machine. No lesson imports anything from here.
"""
