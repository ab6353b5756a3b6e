// While words are typed, the preview beside them follows; without this file its button does the same.

const form = document.querySelector("#words");
const button = form?.querySelector("[data-preview]");
const PAUSE_MS = 600;
let waiting = 0;

form?.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(() => {
    // A form of its own: submitting the one that is typed into would say that its words are saved.
    const copy = document.createElement("form");
    copy.method = "post";
    copy.action = button.formAction;
    copy.target = "preview";
    copy.hidden = true;
    for (const [name, value] of new FormData(form)) {
      const field = document.createElement("textarea");
      field.name = name;
      field.value = value;
      copy.append(field);
    }
    document.body.append(copy);
    copy.submit();
    copy.remove();
  }, PAUSE_MS);
});
