for (const button of document.querySelectorAll("button[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
const find = document.getElementById("find");
if (find) {
  const rows = document.querySelectorAll(".board tbody tr");
  find.parentElement.hidden = false;
  find.addEventListener("input", () => {
    const wanted = find.value.trim().toLowerCase();
    for (const row of rows) {
      row.hidden = !row.cells[0].textContent.toLowerCase().includes(wanted);
    }
  });
}
