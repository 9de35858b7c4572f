// A step of a cut: the fields come back with drawing and ledger moved, the hand stays on its key, open rows stay open.

const main = document.getElementById("main");
const said = document.getElementById("said");

const rows = () => [...main.querySelectorAll("details")];
const name = (row) => row.querySelector("summary").textContent;

function put(text) {
  const fresh = new DOMParser().parseFromString(text, "text/html");
  const open = new Set(rows().filter((row) => row.open).map(name));
  main.replaceChildren(...fresh.body.childNodes);
  for (const row of rows()) row.open = open.has(name(row));
  // A region that was there before is read aloud; one that comes with its words is not.
  said.textContent = [...main.querySelectorAll(".faults, .crosses")].map((one) => one.textContent.trim()).join(" ");
}

function back(key) {
  const again = key && [...main.querySelectorAll("[data-key]")].find((one) => one.dataset.key === key);
  if (again) (again.disabled ? again.closest(".stepper").querySelector("button:not(:disabled)") : again)?.focus();
}

async function send(form) {
  const key = form.querySelector("[data-key]")?.dataset.key;
  main.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)), headers: { "x-part": "yes" } });
    put(await answer.text());
    back(key);
  } catch {
    form.submit(); // no answer from the bench: the browser says so itself
  } finally {
    main.removeAttribute("aria-busy");
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.action.includes("/intended/") || form.method !== "post") return;
  event.preventDefault();
  if (main.getAttribute("aria-busy") !== "true") send(form);
});
