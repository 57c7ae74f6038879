"""A learner's browser as the hub sees it: pages, cookies, REST calls, and a kernel's messages.

It signs in through the form, waits at the hub's progress page, follows the redirects to JupyterLab,
opens a lesson, and sends its cells one after the other, as the page does.
"""

import asyncio
import contextlib
import json
import re
import time
import uuid

import httpx
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect

LARGEST_MESSAGE = 100_000_000
FRAME = "application/vnd.jupyter.widget-view+json"


class Refused(Exception):
    """What the hub or a server did not do, in words."""


class Visitor:
    """One browser with its cookies.

    address: the class's, with no slash behind. patience: seconds for the server to start.
    """

    def __init__(self, address, login, patience=120):
        self.address, self.login, self.patience = address, login, patience
        self.own, self.answer = f"/user/{login}", None
        # The certificate of a test is nobody's; what is tested is that it is used.
        self.client = httpx.AsyncClient(
            base_url=address, follow_redirects=True, timeout=patience, verify=False
        )

    async def __aenter__(self):
        return self

    async def __aexit__(self, *_):
        await self.client.aclose()

    def cookie(self, name, path):
        """Return the value of a cookie that holds for a path."""
        found = [c.value for c in self.client.cookies.jar if (c.name, c.path) == (name, path)]
        return found[0] if found else ""

    async def sign_in(self, password):
        """Send the form; return whether the hub let this learner in."""
        await self.client.get("/hub/login")
        form = {
            "username": self.login,
            "password": password,
            "_xsrf": self.cookie("_xsrf", "/hub/"),
        }
        self.answer = await self.client.post("/hub/login", data=form, follow_redirects=False)
        return self.answer.status_code == 302

    async def spawn(self):
        """Ask for a server, and wait at the progress page until it runs."""
        page = await self.client.get(f"/hub/spawn/{self.login}")
        if page.status_code != 200:
            raise Refused(f"spawning answers {page.status_code}")
        if page.url.path.startswith(self.own):
            return
        progress = f"/hub/api/users/{self.login}/server/progress"
        query = {"_xsrf": self.cookie("_xsrf", "/hub/")}
        async with self.client.stream("GET", progress, params=query) as events:
            if events.status_code != 200:
                raise Refused(f"the progress page answers {events.status_code}")
            async for line in events.aiter_lines():
                event = json.loads(line.removeprefix("data:")) if line.startswith("data:") else {}
                if event.get("failed"):
                    raise Refused(event.get("message", "the server did not start"))
                if event.get("ready"):
                    return
        raise Refused("the server never became ready")

    async def open_lab(self):
        """Load JupyterLab's page and its scripts; return how many bytes came."""
        page = await self.client.get(f"{self.own}/lab")
        if page.status_code != 200 or "jupyter-config-data" not in page.text:
            raise Refused(f"JupyterLab answers {page.status_code} at {page.url.path}")
        size = len(page.content)
        for script in re.findall(r'<script[^>]+src="([^"]+)"', page.text):
            size += len((await self.client.get(script)).content)
        return size

    async def api(self, method, path, **more):
        """Call the learner's own server as the page does; return the answer."""
        headers = {"X-XSRFToken": self.cookie("_xsrf", f"{self.own}/")}
        return await self.client.request(method, f"{self.own}/api/{path}", headers=headers, **more)

    async def end_server(self):
        """End this learner's server, as the hub's page does."""
        path = f"/hub/api/users/{self.login}/server"
        await self.client.get("/hub/home")
        headers = {"X-XSRFToken": self.cookie("_xsrf", "/hub/")}
        answer = await self.client.delete(path, headers=headers)
        if answer.status_code not in (202, 204):
            raise Refused(f"ending the server answers {answer.status_code}")

    async def lesson(self, path):
        """Return the notebook at a path of the learner's home."""
        answer = await self.api("GET", f"contents/{path}")
        if answer.status_code != 200:
            raise Refused(f"the lesson answers {answer.status_code}")
        return answer.json()["content"]

    async def kernel(self, path):
        """Start a kernel for a notebook, and open its channels."""
        body = {"path": path, "type": "notebook", "name": "", "kernel": {"name": "python3"}}
        answer = await self.api("POST", "sessions", json=body)
        if answer.status_code != 201:
            raise Refused(f"a session answers {answer.status_code}: {answer.text[:200]}")
        kernel = answer.json()["kernel"]["id"]
        session = uuid.uuid4().hex
        url = f"{self.address}{self.own}/api/kernels/{kernel}/channels?session_id={session}"
        path = url.removeprefix(self.address)
        cookies = self.client.build_request("GET", path).headers.get("cookie", "")
        request = HTTPRequest(
            re.sub("^http", "ws", url),
            headers={"Cookie": cookies, "Origin": self.address},
            validate_cert=False,
            request_timeout=self.patience,
            connect_timeout=self.patience,
        )
        socket = await websocket_connect(request, max_message_size=LARGEST_MESSAGE)
        return Kernel(socket, session, self.patience)


class Kernel:
    """The channels of one kernel. `panels`: the models of the panels that its cells have shown."""

    def __init__(self, socket, session, patience):
        self.socket, self.session, self.patience = socket, session, patience
        self.models, self.panels = {}, []

    async def close(self):
        """Close the page's end; the kernel lives on."""
        self.socket.close()
        with contextlib.suppress(TimeoutError):
            while await asyncio.wait_for(self.socket.read_message(), 5) is not None:
                pass

    def panels_shown(self):
        """Return the states of the panels that stand in the page."""
        return [self.models[model] for model in self.panels]

    async def send(self, kind, content, channel="shell"):
        """Send a message on a channel; return its number."""
        number = uuid.uuid4().hex
        header = {
            "msg_id": number,
            "msg_type": kind,
            "session": self.session,
            "username": "",
            "version": "5.3",
            "date": "",
        }
        message = {"header": header, "parent_header": {}, "metadata": {}, "content": content}
        await self.socket.write_message(json.dumps({**message, "channel": channel, "buffers": []}))
        return number

    async def heard(self, number, end):
        """Yield what belongs to a message until the kernel rests again."""
        while True:
            text = await asyncio.wait_for(self.socket.read_message(), end - time.monotonic())
            if text is None:
                raise Refused("the kernel's channels were closed")
            if isinstance(text, bytes):  # buffers behind the message: its text comes first
                start, stop = (int.from_bytes(text[at : at + 4], "big") for at in (4, 8))
                text = text[start:stop]
            message = json.loads(text)
            if message["parent_header"].get("msg_id") != number:
                continue
            yield message
            if message["content"].get("execution_state") == "idle":
                return

    async def run(self, code):
        """Run a cell; return what it printed or showed as text. An error raises Refused."""
        content = {"code": code, "silent": False, "store_history": True, "allow_stdin": False}
        number = await self.send("execute_request", content)
        said = []
        async for message in self.heard(number, time.monotonic() + self.patience):
            kind, content = message["msg_type"], message["content"]
            if kind == "error":
                raise Refused(f"{content['ename']}: {content['evalue']}")
            if kind == "comm_open":
                self.models[content["comm_id"]] = content["data"].get("state", {})
            if kind == "stream":
                said.append(content["text"])
            if kind in ("execute_result", "display_data"):
                said.append(content["data"].get("text/plain", ""))
                model = content["data"].get(FRAME, {}).get("model_id")
                if model in self.models:
                    self.panels.append(model)
        return "".join(said)

    async def debug(self, command, arguments):
        """Send a request for the debugger, as JupyterLab's button does; wait for the answer."""
        request = {"seq": 1, "type": "request", "command": command, "arguments": arguments}
        number = await self.send("debug_request", request, "control")
        async for message in self.heard(number, time.monotonic() + 5):
            if message["msg_type"] == "debug_reply":
                return

    async def set_panel(self, model, values):
        """Set a panel's fields as its page does; return the new face."""
        content = {"stamp": ["visitor", 1], "action": "", "values": values}
        data = {"method": "custom", "content": content}
        number = await self.send("comm_msg", {"comm_id": model, "data": data})
        face = None
        async for message in self.heard(number, time.monotonic() + self.patience):
            if message["msg_type"] == "comm_msg":
                face = message["content"]["data"].get("state", {}).get("face", face)
        if face is None:
            raise Refused("the panel did not answer")
        return face
