"""What does the hub of a class do differently from a plain JupyterHub? Doors, sign-in, endings.

*Doors.* A hub that only names a port to a server believes whoever listens there seconds later. So
the hub itself takes the port, below 1024, where no learner can, and hands it open to the server.
*Sign-in.* A wrong password and a name that is none are answered alike and late; a right password
waits for nobody. *Ends.* What is left of a learner when the server has ended is ended too.
Only the hub's own Python has what this imports.
"""

import asyncio
import time
from pathlib import Path

from jupyterhub import orm
from jupyterhub.auth import PAMAuthenticator
from jupyterhub.handlers import LogoutHandler
from jupyterhub.spawner import LocalProcessSpawner
from traitlets import Any, Unicode

from workshop_lib.classroom import accounts
from workshop_lib.classroom.places import Places, meeting_place, open_door
from workshop_lib.classroom.seat import DOOR

ANSWER_SECONDS = 2  # after which a wrong password is answered
ANSWERS = asyncio.Semaphore(40)  # wrong passwords that wait at a time: so 20 in a second, by all


class SignIn(PAMAuthenticator):
    """The system's own passwords; nobody is locked out, since 54 random bits need no lock."""

    async def authenticate(self, handler, data):
        """Return the login name for a right password at once; for a wrong one None, later."""
        came = time.monotonic()
        found = await super().authenticate(handler, data)
        if not found:
            async with ANSWERS:
                await asyncio.sleep(max(0.0, came + ANSWER_SECONDS - time.monotonic()))
        return found

    def get_handlers(self, app):
        """Return the pages for signing in and out."""
        return [("/logout", SignOut), *super().get_handlers(app)]


class SignOut(LogoutHandler):
    """Signing out ends the session in every browser, also for cookies that somebody kept."""

    async def handle_logout(self):
        """Let no cookie of this learner be good any more."""
        if self.current_user:
            self.current_user.orm_user.cookie_id = orm.new_token()
            self.db.commit()


class Seat(LocalProcessSpawner):
    """Starts a learner's server with its port open in its hands, and within its share."""

    folder = Unicode(help="where the class lies", config=True)
    door = Any()

    async def start(self):
        """Start the server, unless the account is not a learner's any more."""
        login, places = self.user.name, Places(self.folder)
        accounts.refuse_unsafe_home(login, places)
        self.shut()
        self.door = open_door()
        self.port = self.door.getsockname()[1]
        self.cmd = [word.replace("{login}", login) for word in self.cmd]
        # A learner can empty what is open in the own program: this one tells why there is no seat.
        with open(places.said(login), "wb") as said:
            self.popen_kwargs = {"stdout": said, "stderr": said, "pass_fds": (self.door.fileno(),)}
            return await super().start()

    def get_env(self):
        """Tell the server where its open door is, and where its kernels meet it."""
        meeting = meeting_place(accounts.entry(self.user.name))
        own = {"JUPYTER_RUNTIME_DIR": str(meeting), DOOR: str(self.door.fileno())}
        return super().get_env() | own

    def make_preexec_fn(self, name):
        """Leave it to the command to become the learner, in that learner's share."""

    def load_state(self, state):
        """Take up a server after the hub was killed, if its number is not another's by now."""
        super().load_state(state)
        account = accounts.entry(self.user.name)
        process = Path("/proc", str(self.pid))
        if not account or not process.exists() or process.stat().st_uid != account.pw_uid:
            self.pid = 0

    def run_post_stop_hook(self):
        """End what the learner left running, and give the port back."""
        self.shut()
        account = accounts.entry(self.user.name)
        if account and accounts.belongs(self.user.name, Places(self.folder)):
            accounts.end_all(account)

    def shut(self):
        """Close the hub's own copy of the open port."""
        if self.door:
            self.door.close()
            self.door = None
