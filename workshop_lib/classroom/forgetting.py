"""Lets the hub forget a learner; run in the hub's environment, while the hub is not running.

python -I -m workshop_lib.classroom.forgetting DATABASE LOGIN
"""

import sys


def main(arguments):
    """Delete what the hub keeps of one learner: sign-ins, tokens, and when the last visit was."""
    from jupyterhub import orm  # only the hub's environment has it

    database, login = arguments
    session = orm.new_session_factory(f"sqlite:///{database}")()
    learner = orm.User.find(session, login)
    if learner is not None:
        session.delete(learner)
        session.commit()
    session.close()


if __name__ == "__main__":
    main(sys.argv[1:])
