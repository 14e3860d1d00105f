// The bench without waiting: every change of a blank asks the server for the
// answer anew. All of it works without this file too, by the form's own button.
"use strict";

const live = document.querySelector("form[data-live]");
if (live) {
  const answer = document.getElementById("answer");
  const busy = document.getElementById("busy");
  let asking = null, soon = 0, pause = 0;

  const query = () => new URLSearchParams(new FormData(live)).toString();

  async function ask(speed) {
    if (asking) asking.abort();
    const mine = (asking = new AbortController());
    if (speed === "whole" && busy) busy.dataset.on = "1";
    try {
      const reply = await fetch(live.action.split("?")[0] + "?" + query(), {
        headers: { "Bench-Part": "answer", "Bench-Speed": speed }, signal: mine.signal,
      });
      const html = await reply.text();
      if (mine !== asking) return;
      answer.innerHTML = html;
      answer.dataset.speed = speed;
      markWrong();
      history.replaceState(null, "", "?" + query());
    } catch (gone) {
      if (gone.name !== "AbortError") answer.dataset.lost = "1";
    } finally {
      if (mine === asking) { asking = null; if (busy) delete busy.dataset.on; }
    }
  }

  // The blank that a problem speaks of is marked, and the problem is read out with it.
  function markWrong() {
    for (const field of live.elements) { field.classList.remove("wrong"); field.removeAttribute("aria-describedby"); field.removeAttribute("aria-invalid"); }
    for (const problem of answer.querySelectorAll("[data-field]")) {
      const field = live.elements[problem.dataset.field];
      if (!field || field instanceof RadioNodeList) continue;
      field.classList.add("wrong");
      field.setAttribute("aria-invalid", "true");
      field.setAttribute("aria-describedby", problem.id);
    }
  }

  live.addEventListener("input", (event) => {
    if (event.target.matches("[data-reload]")) {
      for (const name of ["back", "edge"]) live.elements[name]?.removeAttribute("name");
      live.submit();
      return;
    }
    clearTimeout(soon); clearTimeout(pause);
    soon = setTimeout(() => ask("section"), 30);
    pause = setTimeout(() => ask("whole"), 700);
  });
  document.getElementById("cancel")?.addEventListener("click", () => { clearTimeout(pause); asking?.abort(); if (busy) delete busy.dataset.on; });
  markWrong();
}

// Nudge: one step up or down in the field beside it.
document.addEventListener("click", (event) => {
  const nudge = event.target.closest("[data-nudge]");
  if (!nudge) return;
  event.preventDefault();
  const field = document.getElementById(nudge.dataset.for);
  const step = Number(nudge.dataset.nudge);
  const typed = /^(.*?)(-?[0-9]+(?:\.[0-9]+)?)(.*)$/.exec(field.value);
  if (!typed) return;
  const digits = Math.max((typed[2].split(".")[1] || "").length, (String(Math.abs(step)).split(".")[1] || "").length);
  field.value = typed[1] + (Number(typed[2]) + step).toFixed(digits) + typed[3];
  field.dispatchEvent(new Event("input", { bubbles: true }));
});

document.querySelector("[data-print]")?.addEventListener("click", (event) => {
  if (event.currentTarget.dataset.print === "here") { event.preventDefault(); window.print(); }
});
