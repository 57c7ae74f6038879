"""What does JupyterLab get when it opens a lesson? What is dead in it rests until woken."""

from jupyter_server.services.contents.largefilemanager import AsyncLargeFileManager

from workshop_lib.launcher.resting import drop_empty_end, quieten, wake_up


class Contents(AsyncLargeFileManager):
    """JupyterLab's files, as they are but for panels that rest and empty cells at the end."""

    async def get(self, path, content=True, **options):
        """Return a file as JupyterLab asks for it."""
        model = await super().get(path, content, **options)
        if content and model["type"] == "notebook":
            process = await self._process(path.strip("/"))
            if quieten(model["content"], process) or process is None:
                wake_up(model["content"])
            drop_empty_end(model["content"])
        return model

    async def _process(self, path):
        """Return the number of the process that runs a notebook now, or None."""
        for session in await self.parent.session_manager.list_sessions():
            if session["path"] == path:
                kernel = self.parent.kernel_manager.get_kernel(session["kernel"]["id"])
                return getattr(kernel.provisioner, "pid", None)
        return None
