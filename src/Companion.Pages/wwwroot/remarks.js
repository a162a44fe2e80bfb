// A remark moves whatever else shows the record to its entry. Without this file its link does.
"use strict";
document.addEventListener("click", event => {
  const place = event.target.closest(".remark-place");
  if (place && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    const detail = { sequence: Number(place.dataset.sequence), at: Number(place.dataset.at), from: "remarks" };
    document.dispatchEvent(new CustomEvent("moment", { detail }));
  }
});
