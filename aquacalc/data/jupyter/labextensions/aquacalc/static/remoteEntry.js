// Starts a notebook of the workbook when it is opened, shows no code until it is asked for, and locks its cells
// as long. The server says by its content whether a notebook is one: any other one waits to be asked.
const LOCKED = "aquacalc-locked";

const STYLE = `
body.${LOCKED} .jp-Cell-inputWrapper:has(.jp-CodeMirrorEditor):not(.jp-MarkdownCell *){display:none}
body.${LOCKED} .jp-CodeCell .jp-Cell-inputWrapper,body.${LOCKED} .jp-OutputPrompt,
body.${LOCKED} .jp-Notebook-footer,body.${LOCKED} .jp-cell-toolbar{display:none}`;

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
          if (app.shell.currentWidget && app.shell.currentWidget.content) lock(app.shell.currentWidget, locked);
        }});
        app.commands.addKeyBinding({command, keys: ["Accel Shift H"], selector: "body"});
      }
      document.body.classList.add(LOCKED);
      lock(panel, true);
      await panel.sessionContext.ready;
      await app.commands.execute("notebook:run-all-cells");
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
