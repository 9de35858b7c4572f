// A step of a cut: the fields come back with drawing and ledger moved, and the hand stays on its key.

const main = document.getElementById("main");

async function send(form) {
  const key = form.querySelector("[data-key]")?.dataset.key;
  main.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)), headers: { "x-part": "yes" } });
    main.innerHTML = await answer.text();
  } catch {
    form.submit(); // no answer from the bench: the browser says so itself
    return;
  } finally {
    main.removeAttribute("aria-busy");
  }
  const again = key && [...main.querySelectorAll("[data-key]")].find((one) => one.dataset.key === key);
  if (again) (again.disabled ? again.closest(".stepper").querySelector("button:not(:disabled)") : again)?.focus();
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.action.includes("/work/") || form.method !== "post") return;
  event.preventDefault();
  if (main.getAttribute("aria-busy") !== "true") send(form);
});
