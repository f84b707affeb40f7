(() => {
  // A page notices when what computes for it has ended (left for long, stopped, the machine slept) and says so,
  // instead of showing an old answer to fields that nobody reads any more.
  const settings = JSON.parse(document.getElementById("jupyter-config-data").textContent);
  const address = `${settings.baseUrl}here/${settings.kernelId}`;
  const gone = document.getElementById("gone");
  const look = async () => {
    let there = false;
    try {
      there = (await fetch(address, {cache: "no-store"})).ok;
    } catch (fault) { /* the server has ended, too */ }
    gone.hidden = there;
    document.body.classList.toggle("is-gone", !there);
  };
  setInterval(look, 15000);
  document.addEventListener("visibilitychange", () => document.hidden || look());
  document.addEventListener("change", look, true);
  window.addEventListener("pageshow", look);
  look();

  // Sliders come without a name that a screen reader could say; the name of their box is theirs, too.
  const nameSliders = () => {
    for (const handle of document.querySelectorAll(".noUi-handle:not([aria-label])")) {
      const box = handle.closest(".aq-field");
      const label = box && box.querySelector(".widget-label");
      if (label && label.textContent) handle.setAttribute("aria-label", label.textContent);
    }
  };
  new MutationObserver(nameSliders).observe(document.body, {childList: true, subtree: true});

  // One question at a time: the address names the part that is shown, a list of links stands over it.
  const ALL = "all", LEAST_PARTS = 3;
  const cells = [...document.querySelectorAll("#rendered_cells [cell-index]")];
  const part = new Map();
  const heads = [];
  for (const cell of cells) {
    const head = cell.querySelector("section h2");
    if (head) heads.push(head);
    part.set(cell, heads.length ? heads[heads.length - 1].id : "");
  }
  if (heads.length < LEAST_PARTS) return;
  const questions = document.getElementById("questions");
  const links = [...heads.map(head => [head.id, head.firstChild.textContent]), [ALL, questions.dataset.all]];
  for (const [name, text] of links) {
    const link = document.createElement("a");
    link.href = `#${encodeURIComponent(name)}`;
    link.textContent = text;
    questions.append(link);
  }
  const first = cells.find(cell => cell.querySelector("section h2"));
  first.before(questions);
  const show = () => {
    let wanted = decodeURIComponent(location.hash.slice(1));
    if (wanted !== ALL && !heads.some(head => head.id === wanted)) wanted = heads[0].id;
    for (const cell of cells) cell.hidden = wanted !== ALL && part.get(cell) !== "" && part.get(cell) !== wanted;
    for (const link of questions.children) {
      link.toggleAttribute("aria-current", decodeURIComponent(link.hash.slice(1)) === wanted);
    }
    if (location.hash.length > 1) questions.scrollIntoView();
  };
  questions.hidden = false;
  show();
  window.addEventListener("hashchange", show);
  // Pictures and panels come later than the page: what was asked for stays in sight.
  const shown = new MutationObserver(() => {
    if (document.getElementById("loading")) return;
    shown.disconnect();
    setTimeout(show, 300);
  });
  shown.observe(document.body, {childList: true});
})();
