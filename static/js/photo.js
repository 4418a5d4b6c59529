// A photo is shrunk on the phone and sent as soon as it is taken, one after the other.

const LONGEST = 1600;
const QUALITY = 0.85;

document.addEventListener("change", (event) => {
  const input = event.target;
  if (input instanceof HTMLInputElement && input.type === "file" && input.dataset.to) send(input);
});

async function send(input) {
  const files = [...input.files];
  const said = document.getElementById("photo-s");
  said.textContent = input.dataset.sending;
  try {
    let answer = "";
    for (const file of files) answer = await sent(input.dataset.to, await shrunk(file), file.name);
    const place = document.getElementById("photos");
    place.innerHTML = answer;
    window.htmx?.process(place);
  } catch {
    // The files stay chosen, so that they go along with the form.
    said.textContent = input.dataset.failed;
  }
}

async function sent(address, photo, name) {
  const form = new FormData();
  form.append("key", Array.from(crypto.getRandomValues(new Uint32Array(4))).join("-"));
  form.append("photo", photo, name);
  const headers = { "HX-Request": "true" };
  const response = await fetch(address, { method: "POST", body: form, headers });
  if (!response.ok) throw new Error(String(response.status));
  return response.text();
}

async function shrunk(file) {
  let picture;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    return file; // not a picture this browser can read: the server says why
  }
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((done) => {
    canvas.toBlob((blob) => done(blob ?? file), "image/jpeg", QUALITY);
  });
}
