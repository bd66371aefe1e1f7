// Sends a chosen picture or clip at once, with progress, so that the form itself is short.

const PUT = "/api/media?name=";

/** @param {HTMLFormElement} form */
export function take(form) {
  const button = form.querySelector("button:not([type=button])");
  form.classList.add("live"); // the whole field is the button from here on
  let sending = 0;
  for (const input of form.querySelectorAll(".shot input[type=file]")) {
    input.addEventListener("change", () => {
      const file = input.files[0];
      if (file) send(input, file);
    });
  }

  function send(input, file) {
    const box = input.closest(".shot");
    const state = box.querySelector(".shot-state");
    clear(input, box);
    const bar = document.createElement("progress");
    bar.max = 1;
    bar.value = 0;
    bar.setAttribute("aria-label", `Sending ${file.name}`);
    state.className = "shot-state";
    state.replaceChildren(`Sending ${file.name}`, bar);
    busy(1);
    const request = new XMLHttpRequest();
    request.open("PUT", PUT + encodeURIComponent(file.name));
    request.responseType = "json";
    request.upload.addEventListener("progress", (event) => {
      if (event.lengthComputable) bar.value = event.loaded / event.total;
    });
    request.addEventListener("loadend", () => {
      busy(-1);
      if (request.status === 200) {
        kept(input, box, request.response);
      } else {
        const error = request.response?.error;
        state.className = "shot-state bad";
        state.textContent = error
          ? `${error.what}: ${error.why} ${error.fix}`
          : "It did not arrive. Check the network, then choose it again.";
        input.value = "";
      }
    });
    request.send(file);
  }

  function kept(input, box, answer) {
    for (const part of ["media", "name", "kind"]) {
      const field = document.createElement("input");
      field.type = "hidden";
      field.name = `${input.name}_${part}`;
      field.value = answer[part];
      box.append(field);
    }
    box.classList.add("chosen");
    const file = input.files[0];
    if (file?.type.startsWith("image/")) show(file, box);
    box.querySelector(".shot-state").textContent = `Ready: ${answer.name}`;
    input.dataset.name = input.name;
    input.removeAttribute("name"); // it is there already: the form need not send it again
  }

  /** What was chosen, so that nobody sends the wrong one; a kind no browser draws is left out. */
  function show(file, box) {
    const picture = new Image();
    picture.className = "shot-picture";
    picture.alt = "";
    picture.addEventListener("load", () => box.querySelector(".shot-state").before(picture));
    for (const end of ["load", "error"]) picture.addEventListener(end, () => URL.revokeObjectURL(picture.src));
    picture.src = URL.createObjectURL(file);
  }

  function clear(input, box) {
    box.querySelector(".shot-picture")?.remove();
    for (const field of box.querySelectorAll("input[type=hidden]")) field.remove();
    box.classList.remove("chosen");
    if (input.dataset.name) input.name = input.dataset.name;
  }

  function busy(change) {
    sending += change;
    button.disabled = sending > 0;
  }
}
