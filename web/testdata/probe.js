// Measures what the page's worker is asked and answers: it stands between the page and the worker.
"use strict";
const probe = { walked: "", pending: 0, now: null, armed: false };

const RealWorker = Worker;
window.Worker = class {
  constructor(address) {
    this.real = new RealWorker(address);
    this.real.onerror = (event) => this.onerror?.(event);
    this.real.onmessage = (event) => {
      const came = performance.now();
      const reply = event.data.reply;
      if (reply) probe.pending--;
      this.onmessage?.(event);
      if (!reply || !probe.now) return;
      const patch = performance.now() - came;
      const fragments = reply.fragments?.length ?? 0;
      if (reply.id === probe.now.id) {
        Object.assign(probe.now, { took: reply.took ?? {}, reply: came - probe.now.sent, patch, fragments, rest: 0 });
      } else probe.now.rest += fragments;
      probe.now.all = performance.now() - probe.now.sent;
    };
  }
  postMessage(message) {
    if (message.request) {
      message.request.timed = true;
      probe.pending++;
      if (probe.armed && ["choose", "toggle", "count", "empty", "reason"].includes(message.request.act)) {
        probe.armed = false;
        probe.now = { id: message.request.id, sent: performance.now() };
      }
    }
    this.real.postMessage(message);
  }
};

const frame = () => new Promise((done) => requestAnimationFrame(done));
async function idle() {
  for (let quiet = 0; quiet < 3; quiet++) {
    await frame();
    if (probe.pending > 0) quiet = -1;
  }
}

// ask has one of the options that cannot be had explained, with the ways out, and folds the answer up again.
probe.ask = async (draw, list) => {
  const all = [...document.querySelectorAll(".choices [data-act=reason][aria-expanded=false]")];
  if (all.length === 0) return;
  const { id } = all[draw(all.length)];
  document.getElementById(id).closest("details.slot").open = true;
  await idle();
  for (const armed of [true, false]) {
    probe.armed = armed;
    document.getElementById(id).click();
    await idle();
    if (probe.now) list.push({ ...probe.now, why: true });
    probe.now = null;
  }
};

// walk chooses so many open options on a hull, drawn by a linear congruential sequence (Park and Miller, 1988).
probe.walk = async (hull, seed, times) => {
  let state = seed * 48271;
  const draw = (n) => (state = (state * 48271) % 2147483647) % n;
  await idle();
  document.getElementById(`hull-${hull}`).click();
  await idle();
  const list = [];
  for (let i = 0; i < times; i++) {
    const open = [...document.querySelectorAll(".choices li.open input:not([type=number]):not(:disabled)")];
    const input = open[draw(open.length)];
    input.closest("details").open = true;
    input.scrollIntoView({ block: "center" });
    await idle();
    probe.armed = true;
    document.getElementById(input.id).click();
    await idle();
    if (probe.now) list.push(probe.now);
    probe.now = null;
    await probe.ask(draw, list);
  }
  probe.walked = JSON.stringify(list);
};
