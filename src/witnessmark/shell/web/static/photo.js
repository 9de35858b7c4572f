// A finger on the drawing writes the mark's two numbers; the numbers move the mark.

function shown(holder, left, top) {
  const svg = holder.querySelector("svg");
  const [x, y, width, height] = svg.getAttribute("viewBox").split(/[ ,]+/).map(Number);
  let ring = svg.querySelector("[data-mark]");
  if (!ring) {
    ring = document.createElementNS(svg.namespaceURI, "circle");
    ring.dataset.mark = "";
    ring.setAttribute("class", "ph");
    ring.setAttribute("r", width / 24);
    svg.append(ring);
  }
  ring.setAttribute("cx", x + (width * left) / 100);
  ring.setAttribute("cy", y + (height * top) / 100);
}

for (const holder of document.querySelectorAll("[data-marks]")) {
  const n = holder.dataset.marks;
  const left = document.getElementById(`left-${n}`);
  const top = document.getElementById(`top-${n}`);
  const move = () => left.value && top.value && shown(holder, Number(left.value), Number(top.value));
  holder.addEventListener("click", (event) => {
    const svg = holder.querySelector("svg");
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const [x, y, width, height] = svg.getAttribute("viewBox").split(/[ ,]+/).map(Number);
    const percent = (part, whole) => String(Math.round(Math.min(100, Math.max(0, (100 * part) / whole))));
    left.value = percent(at.x - x, width);
    top.value = percent(at.y - y, height);
    move();
  });
  left.addEventListener("input", move);
  top.addEventListener("input", move);
}
