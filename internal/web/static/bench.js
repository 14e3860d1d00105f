// The bench without waiting: every change of a blank asks the server for the
// answer anew; at once for a glance, and after a pause for the odds and the
// whole piece together. All of it works without this file too, by the form's own button.
"use strict";

const live = document.querySelector("form[data-live]");
const answer = document.getElementById("answer");
const busy = document.getElementById("busy");
let asking = null, soon = 0, pause = 0, last = "";

const query = () => new URLSearchParams(new FormData(live)).toString();

function rest() {
  clearTimeout(soon); clearTimeout(pause);
  asking?.abort();
  asking = null;
  if (busy) delete busy.dataset.on;
}

// Reads a reply that tells how far it is in lines of <!--0.42--> before its text.
async function read(reply, told) {
  const words = new TextDecoder();
  let text = "";
  for (const reader = reply.body.getReader(); ;) {
    const { done, value } = await reader.read();
    if (done) break;
    text += words.decode(value, { stream: true });
    for (let line; (line = /^<!--([0-9.]+)-->\n/.exec(text)); text = text.slice(line[0].length)) told(Number(line[1]));
  }
  return text;
}

// Puts an answer in place of the last; what was open stays open, what had the
// focus has it still, and nothing below jumps up.
function show(html) {
  const parts = "a, button, summary";
  const at = [...answer.querySelectorAll(parts)].indexOf(document.activeElement);
  const open = [...answer.querySelectorAll("details")].map((d) => d.open);
  answer.style.minHeight = answer.offsetHeight + "px";
  answer.innerHTML = html;
  answer.querySelectorAll("details").forEach((d, i) => { d.open = !!open[i]; });
  if (at >= 0) answer.querySelectorAll(parts)[at]?.focus({ preventScroll: true });
}

// Answers to one state of the blanks: the thorough ones replace the quick ones.
async function ask(...speeds) {
  asking?.abort();
  const mine = (asking = new AbortController());
  const bar = busy?.querySelector("progress");
  if (busy && speeds.length > 1) { busy.dataset.on = "1"; bar.removeAttribute("value"); }
  mine.shown = -1;
  await Promise.all(speeds.map((speed, rank) => answered(mine, speed, rank, rank === speeds.length - 1 && bar)));
  if (mine === asking) { asking = null; if (busy) delete busy.dataset.on; }
}

async function answered(mine, speed, rank, bar) {
  try {
    const began = performance.now();
    const reply = await fetch(live.action.split("?")[0] + "?" + query(), {
      headers: { "Bench-Part": "answer", "Bench-Speed": speed }, signal: mine.signal,
    });
    const html = await read(reply, (share) => { if (bar) bar.value = share; });
    if (mine !== asking || rank < mine.shown) return;
    mine.shown = rank;
    // Where the answer has not changed but for its odds, nothing on the page moves.
    if (answer.innerHTML !== html) show(html);
    answer.dataset.speed = speed;
    answer.dataset.took = Math.round(performance.now() - began);
    markWrong();
  } catch (gone) {
    if (gone.name !== "AbortError") answer.dataset.lost = "1";
  }
}

function settle() {
  const now = query();
  if (now !== last) { last = now; changed(); history.pushState(null, "", "?" + now); here = location.search; }
  ask("section", "whole");
}

// The blank that a problem speaks of is marked, and the problem is read out with it.
function markWrong() {
  for (const field of live.elements) { field.classList.remove("wrong"); field.removeAttribute("aria-describedby"); field.removeAttribute("aria-invalid"); }
  let n = 0;
  for (const problem of document.querySelectorAll(".problem[data-field]")) {
    const field = live.elements[problem.dataset.field];
    if (!field || field instanceof RadioNodeList) continue;
    problem.id = "problem-" + n++;
    field.classList.add("wrong");
    field.setAttribute("aria-invalid", "true");
    field.setAttribute("aria-describedby", problem.id);
    // It stands beside its field; the answer only says that something is to be put right.
    const beside = field.closest(".field, .say, .gear");
    if (beside && !beside.contains(problem)) { beside.querySelectorAll(".problem").forEach((old) => old.remove()); beside.append(problem); }
  }
}

// A change can be undone: each state has an address of its own, and the addresses
// that were left are kept while this tab is open.
let here = location.search;
const undo = document.getElementById("undo");
const left = () => JSON.parse(sessionStorage.getItem("left") || "[]").filter((a) => a.startsWith(location.pathname + "?") || a === location.pathname);
function changed() { keepLeft([...left(), location.pathname + here]); }
function keepLeft(all) {
  sessionStorage.setItem("left", JSON.stringify(all.slice(-40)));
  if (undo) undo.disabled = all.length === 0;
}
undo?.addEventListener("click", () => {
  const all = left();
  const back = all.pop();
  keepLeft(all);
  rest();
  if (back) location.assign(back);
});
window.addEventListener("popstate", () => { if (location.search !== here) location.reload(); });

if (live && answer) {
  live.addEventListener("input", (event) => {
    live.querySelectorAll(".field .problem, .say .problem, .gear .problem").forEach((old) => old.remove());
    if (event.target.matches("[data-reload]")) {
      for (const name of ["back", "edge"]) live.elements[name]?.removeAttribute("name");
      rest();
      changed();
      live.submit();
      return;
    }
    clearTimeout(soon); clearTimeout(pause);
    soon = setTimeout(() => ask("glance"), 20);
    pause = setTimeout(settle, 600);
  });
  live.addEventListener("submit", (event) => {
    const by = event.submitter;
    if (by && (by.name === "do" || by.name === "pick")) changed();
  });
  document.getElementById("cancel")?.addEventListener("click", rest);
  last = query();
  markWrong();
  keepLeft(left());
  if (!document.querySelector("#answer .problem")) pause = setTimeout(settle, 300);
  window.addEventListener("pagehide", rest);
  window.addEventListener("resize", () => { answer.style.minHeight = ""; });
}

// Nudge: one step up or down in the field beside it; fractions stay fractions.
function nudged(text, step) {
  const part = /^(\s*)(?:(\d+)[ -])?(\d+)\/(\d+)(.*)$/.exec(text);
  if (part) {
    const least = Math.max(1, Math.round(Math.abs(step) * 64));
    let n = Math.round((Number(part[2] || 0) + Number(part[3]) / Number(part[4])) * 64) + Math.sign(step) * least;
    if (n <= 0) return text;
    let d = 64;
    while (n % 2 === 0 && d > 1) { n /= 2; d /= 2; }
    const all = Math.floor(n / d), over = n % d;
    return part[1] + (over === 0 ? String(all) : (all ? all + "-" : "") + over + "/" + d) + part[5];
  }
  const typed = /^(.*?)(-?[0-9]+(?:\.[0-9]+)?)(.*)$/.exec(text);
  if (!typed) return text;
  const digits = Math.max((typed[2].split(".")[1] || "").length, (String(Math.abs(step)).split(".")[1] || "").length);
  return typed[1] + (Number(typed[2]) + step).toFixed(digits) + typed[3];
}
document.addEventListener("click", (event) => {
  const nudge = event.target.closest("[data-nudge]");
  if (!nudge) return;
  event.preventDefault();
  const field = document.getElementById(nudge.dataset.for);
  field.value = nudged(field.value, Number(nudge.dataset.nudge));
  field.dispatchEvent(new Event("input", { bubbles: true }));
});

// A link to the plan, whole and without a secret, for the clipboard.
document.addEventListener("click", async (event) => {
  const copy = event.target.closest("[data-copy]");
  if (!copy) return;
  event.preventDefault();
  const link = new URL(copy.dataset.copy, location.href).href;
  try {
    await navigator.clipboard.writeText(link);
    copy.textContent = copy.dataset.done;
  } catch {
    window.prompt(copy.textContent, link);
  }
});

document.querySelector("[data-print]")?.addEventListener("click", (event) => { event.preventDefault(); window.print(); });

// A page that only looks at something looks anew when what is chosen changes.
document.querySelector("form[data-auto]")?.addEventListener("change", (event) => event.currentTarget.requestSubmit());
