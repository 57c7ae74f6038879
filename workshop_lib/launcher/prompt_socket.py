"""How does each message between page and kernel go out at once?

The server's own leaves TCP's collecting of small messages on, which can hold a panel's answer back
by some 40 ms.
"""

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class PromptConnection(ZMQChannelsWebsocketConnection):
    """The server's usual connection with that delay switched off."""

    async def connect(self):
        """Switch the delay off, then connect as usual."""
        self.websocket_handler.set_nodelay(True)
        return await super().connect()
