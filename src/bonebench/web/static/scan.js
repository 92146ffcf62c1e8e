"use strict";
// Where the browser can read codes itself, the picture stays on the phone and only the texts are sent; else the picture is sent
// and the program reads it. Without this file the form works with its button.
document.addEventListener("DOMContentLoaded", () => {
  const form = document.getElementById("scan-form");
  const picture = form === null ? null : form.querySelector("input[type=file]");
  if (picture === null) return;
  picture.addEventListener("change", async () => {
    if (picture.files.length === 0) return;
    const busy = document.getElementById("scan-busy");
    busy.hidden = false;
    form.querySelectorAll("input[name=code]").forEach((old) => old.remove());
    const texts = await read(picture.files[0]);
    for (const text of texts) {
      const field = document.createElement("input");
      field.type = "hidden";
      field.name = "code";
      field.value = text;
      form.append(field);
    }
    picture.disabled = texts.length > 0;
    form.requestSubmit();
    // A person who comes back by the browser's own button finds the form as it was.
    setTimeout(() => {
      picture.disabled = false;
      busy.hidden = true;
    }, 1500);
  });
});

async function read(file) {
  if (!("BarcodeDetector" in window)) return [];
  try {
    const formats = await BarcodeDetector.getSupportedFormats();
    if (!formats.includes("qr_code")) return [];
    const image = await createImageBitmap(file);
    const found = await new BarcodeDetector({ formats: ["qr_code"] }).detect(image);
    return [...new Set(found.map((code) => code.rawValue).filter((text) => text !== ""))].slice(0, 50);
  } catch {
    return []; // a picture this browser cannot open, or a detector that is only a name: the program looks for itself
  }
}
