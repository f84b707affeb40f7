// Starts a notebook of the workbook when it is opened, shows no code until it is asked for, and locks its cells
// as long. The server says by its content whether a notebook is one: any other one waits to be asked.
const LOCKED = "aquacalc-locked";

const STYLE = `
body.${LOCKED} .jp-CodeCell .jp-Cell-inputWrapper,body.${LOCKED} .jp-OutputPrompt,
body.${LOCKED} .jp-Notebook-footer,body.${LOCKED} .jp-cell-toolbar{display:none}
.aquacalc-code{position:fixed;right:16px;bottom:36px;z-index:50;font:inherit;padding:8px 14px}`;

const seen = new WeakSet();

const lock = (panel, locked) => {
  for (const cell of panel.content.widgets) {
    cell.model.setMetadata("deletable", !locked);
    cell.model.setMetadata("editable", !locked);
  }
};

const plugin = {
  id: "aquacalc:start",
  autoStart: true,
  activate: app => {
    // Pages without JupyterLab load every extension, also this one.
    if (!app.shell || !app.shell.currentChanged) return;
    const style = document.createElement("style");
    style.textContent = STYLE;
    document.head.append(style);
    const base = JSON.parse(document.getElementById("jupyter-config-data").textContent).baseUrl;
    const command = "aquacalc:show-code";
    const started = [];

    const opened = async panel => {
      if (!panel || !panel.context || !panel.content || !panel.sessionContext || seen.has(panel)) return;
      seen.add(panel);
      await panel.context.ready;
      const path = encodeURIComponent(panel.context.path);
      const answer = await fetch(`${base}aquacalc/ours?path=${path}`);
      if (!answer.ok) return;
      const {ours, show} = await answer.json();
      if (!ours) return;
      if (!app.commands.hasCommand(command)) {
        app.commands.addCommand(command, {label: show, execute: () => {
          const locked = document.body.classList.toggle(LOCKED);
          for (const one of started) if (!one.isDisposed) lock(one, locked);
        }});
        const button = document.createElement("button");
        button.className = "aquacalc-code";
        button.textContent = show;
        button.onclick = () => app.commands.execute(command);
        document.body.append(button);
        document.body.classList.add(LOCKED);
        app.shell.collapseLeft();
      }
      started.push(panel);
      lock(panel, document.body.classList.contains(LOCKED));
      await panel.sessionContext.ready;
      const run = app.commands.execute("notebook:run-all-cells");
      // Running leaves the reader at the last cell; the question stands in the first.
      const top = () => {
        panel.content.activeCellIndex = 0;
        panel.content.node.querySelector(".jp-WindowedPanel-outer").scrollTop = 0;
      };
      setTimeout(top, 0);
      await run;
      top();
    };

    app.shell.currentChanged.connect((_, change) => opened(change.newValue));
    app.restored.then(() => opened(app.shell.currentWidget));
  },
};

window._JUPYTERLAB = window._JUPYTERLAB || {};
window._JUPYTERLAB["aquacalc"] = {
  init: () => {},
  get: () => Promise.resolve(() => ({__esModule: true, default: [plugin]})),
};
