// Every answer was worked out before and stands in the data; this finds it by the sliders.
const data = JSON.parse(document.getElementById("data").textContent);
const DAY_MS = 86400000;
const isOld = Date.now() - Date.parse(data.made) > data.old * DAY_MS;
const warning = document.querySelector(".old");
warning.hidden = !isOld;

function answer(name) {
  const question = data.questions[name];
  const section = document.getElementById("question-" + name);
  const sliders = Object.keys(question.axes).map((axis) => document.getElementById(name + "-" + axis));
  Object.keys(question.axes).forEach((axis, number) => {
    const step = question.axes[axis][sliders[number].value];
    sliders[number].setAttribute("aria-valuetext", step);
    sliders[number].closest(".field").querySelector("output").textContent = step;
  });
  const said = section.querySelector(".answer");
  said.innerHTML = question.answers[sliders.map((slider) => slider.value).join("-")];
  if (isOld) said.prepend(warning.cloneNode(true));
  for (const at of said.querySelectorAll(".at")) {
    const when = new Date(Date.now() + 3600000 * Number(at.dataset.hours));
    at.textContent = "(" + when.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" }) + ")";
  }
}

for (const name of Object.keys(data.questions)) {
  const section = document.getElementById("question-" + name);
  section.addEventListener("input", () => answer(name));
  answer(name);
}

// Printed, the sliders stand at the garden's own values.
window.addEventListener("beforeprint", () => {
  for (const slider of document.querySelectorAll("input")) slider.value = slider.dataset.own;
  for (const name of Object.keys(data.questions)) answer(name);
});
