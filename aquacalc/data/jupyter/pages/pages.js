// A page notices when what computes for it has ended (left for long, stopped, the machine slept) and says so,
// instead of showing an old answer to fields that nobody reads any more.
(() => {
  const settings = JSON.parse(document.getElementById("jupyter-config-data").textContent);
  const address = `${settings.baseUrl}api/kernels/${settings.kernelId}`;
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
  // The part that a link asked for is on the page only when all of it is.
  const enter = () => {
    const part = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (part) part.scrollIntoView();
  };
  const shown = new MutationObserver(() => {
    if (document.getElementById("loading")) return;
    shown.disconnect();
    setTimeout(enter, 300);
  });
  shown.observe(document.body, {childList: true});
})();
