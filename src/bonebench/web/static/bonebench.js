"use strict";
// Every page works without this file. It only says so when a quick tap never reached the book, and puts the keyboard
// where the answer stands after a quick tap, because the button that was pressed is gone by then.
document.addEventListener("DOMContentLoaded", () => {
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
