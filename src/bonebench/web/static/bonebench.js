"use strict";
// Every page works without this file. It only says so when a quick tap never reached the book, and puts the keyboard
// where the answer stands after a quick tap, because the button that was pressed is gone by then. And it follows long work.

// Long work tells how far it is; where the line of events is broken, the page asks every few seconds.
const follow = (box) => {
  const address = `/api/v1/jobs/${encodeURIComponent(box.dataset.job)}`;
  const show = (now) => {
    box.querySelector("progress").value = now.share;
    box.querySelector(".words").textContent = typeof now.words === "string" ? now.words : now.words.text;
    return now.state === "waiting" || now.state === "running";
  };
  const ask = async () => {
    try {
      const answer = await fetch(address);
      if (answer.ok && !show(await answer.json())) return location.reload();
    } catch {
      // No network just now: the next turn asks again, and the words on the page stay as they were.
    }
    setTimeout(ask, 4000);
  };
  const events = new EventSource(`${address}/events`);
  events.onmessage = (message) => {
    if (!show(JSON.parse(message.data))) {
      events.close();
      location.reload();
    }
  };
  events.onerror = () => {
    events.close();
    setTimeout(ask, 1000);
  };
};

document.addEventListener("DOMContentLoaded", () => {
  document.querySelectorAll("[data-job]").forEach(follow);
  const trouble = document.getElementById("not-stored");
  const show = (hidden) => () => {
    trouble.hidden = hidden;
  };
  document.body.addEventListener("htmx:beforeRequest", show(true));
  for (const name of ["htmx:sendError", "htmx:timeout", "htmx:swapError"]) {
    document.body.addEventListener(name, show(false));
  }
  document.body.addEventListener("htmx:afterSettle", () => {
    const said = document.getElementById("said");
    if (said.children.length > 0) said.focus({ preventScroll: true });
  });
});
