// What a large yard holds back is drawn when it is opened; without a script it is all there.
document.addEventListener(
  "toggle",
  (event) => {
    const kept = event.target.querySelector?.(":scope > noscript");
    if (kept) kept.outerHTML = kept.textContent;
  },
  true,
);
for (const sheet of document.querySelectorAll(".sheet")) {
  const button = document.createElement("button");
  button.className = "tools";
  button.textContent = "Print this sheet";
  button.addEventListener("click", () => window.print());
  sheet.prepend(button);
}
const find = document.getElementById("find");
if (find) {
  const body = document.querySelector(".board tbody");
  const rows = [...body.rows].map((row) => ({
    row,
    name: row.cells[0].firstChild.textContent,
    said: row.cells[0].textContent.toLowerCase(),
    goes: row.dataset.goes.split(" ").filter(Boolean),
    water: row.dataset.water,
    hands: "hands" in row.dataset,
    merit: Number(row.dataset.merit),
  }));
  const [goes, show, water, sort] = ["goes", "show", "water", "sort"].map((one) =>
    document.getElementById(`find-${one}`),
  );
  const found = document.getElementById("found");
  const fits = (one, wanted) =>
    one.said.includes(wanted) &&
    (!goes.value ||
      (goes.value === "hands" ? one.hands : one.goes.length > 0 === (goes.value === "yes"))) &&
    (!show.value || one.goes.includes(show.value)) &&
    (!water.value || one.water === water.value);
  const look = () => {
    const wanted = find.value.trim().toLowerCase();
    let count = 0;
    for (const one of rows) {
      const fit = fits(one, wanted);
      if (one.row.hidden === fit) one.row.hidden = !fit;
      count += fit;
    }
    found.textContent = count ? `${count} of ${rows.length} fish` : "No fish is like that.";
  };
  const order = () => {
    const by = {
      name: (a, b) => (a.name < b.name ? -1 : 1),
      merit: (a, b) => b.merit - a.merit,
    }[sort.value];
    body.append(...(by ? [...rows].sort(by) : rows).map((one) => one.row));
  };
  document.querySelector(".find").hidden = false;
  find.addEventListener("input", look);
  for (const one of [goes, show, water]) one.addEventListener("change", look);
  sort.addEventListener("change", order);
  look();
}
document.addEventListener("keydown", (event) => {
  const shown = document.activeElement;
  if (event.key === "Escape" && shown.matches(".season [tabindex]")) shown.blur();
});
