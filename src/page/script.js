
"use strict";
// Plays runs: one slider moves the cursor of the timing diagram, the wiring and the mark in the table of moments.
function show(run, k) {
  for (const e of run.querySelectorAll("[data-s]")) {
    const states = e.getAttribute("data-s");
    for (const name of Array.from(e.classList)) if (/^s.$/.test(name)) e.classList.remove(name);
    e.classList.add("s" + states.charAt(k));
  }
  for (const e of run.querySelectorAll("[data-w]")) e.textContent = e.getAttribute("data-w").split("|")[k];
  for (const e of run.querySelectorAll("[data-x]"))
    e.setAttribute("transform", "translate(" + e.getAttribute("data-x").split(" ")[k] + " 0)");
  const rows = run.querySelectorAll(".moments tbody tr:not(.gap)");
  rows.forEach((row, i) => row.classList.toggle("shown", i === k));
  const slider = run.querySelector("input");
  const time = rows[k].querySelector("th").textContent;
  slider.value = String(k);
  slider.setAttribute("aria-valuetext", time);
  run.querySelector("output").textContent = time + " (" + (k + 1) + " of " + rows.length + ")";
}

// The cursor may be outside of what a narrow window shows of the diagram.
function follow(run) {
  const cursor = run.querySelector(".cursor");
  if (cursor === null) return;
  const frame = cursor.closest(".wide");
  const middle = frame.getBoundingClientRect().left + frame.clientWidth / 2;
  frame.scrollLeft += cursor.getBoundingClientRect().left - middle;
}

function ready(run) {
  const player = run.querySelector(".player");
  if (player === null) return;
  const slider = player.querySelector("input");
  const button = player.querySelector("button");
  const last = Number(slider.max);
  let timer = null;
  const stop = () => {
    clearInterval(timer);
    timer = null;
    button.textContent = "Play";
  };
  const move = (k) => {
    show(run, k);
    follow(run);
  };
  const step = () => {
    const next = Number(slider.value) + 1;
    if (next > last) stop();
    else move(next);
  };
  slider.addEventListener("input", () => {
    stop();
    move(Number(slider.value));
  });
  button.addEventListener("click", () => {
    if (timer !== null) {
      stop();
      return;
    }
    if (Number(slider.value) >= last) move(0);
    button.textContent = "Pause";
    timer = setInterval(step, 900);
  });
  run.querySelectorAll(".moments tbody tr:not(.gap)").forEach((row, i) => row.addEventListener("click", () => {
    stop();
    move(i);
  }));
  player.hidden = false;
  show(run, last);
  follow(run);
  const fold = run.closest("details");
  if (fold !== null) fold.addEventListener("toggle", () => follow(run));
}

document.querySelectorAll(".run").forEach(ready);

// Paper has no folds.
let unfolded = [];
window.addEventListener("beforeprint", () => {
  unfolded = Array.from(document.querySelectorAll("details:not([open])"));
  for (const d of unfolded) d.open = true;
});
window.addEventListener("afterprint", () => {
  for (const d of unfolded) d.open = false;
});
