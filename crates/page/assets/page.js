// The page's only script. Everything is rendered by the server; this asks for it again as one types, and swaps what
// changed without taking focus, caret or scroll from anybody. The job's text is the truth: a field sends its change, the
// server writes it into the text and sends text, fields and plan back.
"use strict";
(() => {
  const QUIET_MS = 150; // typing rests this long before a plan is asked for
  const SAY_MS = 700; // and this long before the outcome is read out
  const TWICE_MS = 500; // a second touch within this time is the same touch
  // What a text may hold; the server refuses the same (crates/formats/src/amount.rs).
  const MOST = 250000; // letters
  const MOST_LINES = 10000;
  const MOST_IN_A_FIELD = 1000; // letters; what the server takes it says itself
  const HOME = "turnwright"; // where this browser keeps the texts
  const FORMER = "turnwright-former"; // and the one that was last put out of the page

  const TITLE = /^[ \t]*title[ \t]*=.*$/m;
  const UNITS = /^[ \t]*units[ \t]*=[ \t]*["'](mm|inch)["']/m;

  document.documentElement.classList.add("js");
  const at = (id) => document.getElementById(id);
  const form = at("job");
  const texts = { job: at("job-text"), shop: at("shop-text") };
  if (!form || !texts.job) return;

  let now = { job: texts.job.value, shop: texts.shop.value };
  let changes = []; // fields changed since that text: [key, value]
  let turn = 0; // answers to older questions are dropped
  let waiting, asking, saying;
  let asked = false; // whether the plan of this job was asked for outright
  let heard = null; // the choice whose `input` was just heard
  let own = true; // whether the plan in sight is, or was, one of these texts
  let unseen = new Set(); // set-ups out of sight when an answer came
  let share = null; // the chance that all is kept, of the plan in sight
  let shareBefore = null; // the same before what is being changed was changed
  let edited = null; // the field or text that is being changed
  let arriving = Promise.resolve(); // what is still to come of the answer in sight
  const before = []; // texts to go back to
  let noted = 0;
  const lines = { job: null, shop: null }; // their numbered lines, as last shown

  // ---- asking -------------------------------------------------------------------------------------------------

  function soon(delay = QUIET_MS) {
    turn += 1;
    at("bars")?.classList.toggle("of-before", at("bars").firstChild !== null);
    at("plan").setAttribute("aria-busy", "true");
    clearTimeout(waiting);
    waiting = setTimeout(ask, delay);
  }

  async function ask() {
    const mine = turn;
    await arriving; // an answer that is in sight comes whole before another is asked for
    if (mine !== turn) return;
    const sent = changes.slice();
    if (asking) asking.abort();
    asking = new AbortController();
    performance.mark("asked");
    try {
      const response = await fetch("/plan", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ job: now.job, shop: now.shop, changes: sent, pressed: asked, was: shareBefore, ...seen() }),
        signal: asking.signal,
      });
      const lines = linesOf(response);
      const answer = (await lines.next()).value;
      performance.mark("answered");
      if (mine !== turn) return;
      if (!response.ok) {
        trouble(answer.says);
        return;
      }
      changes = changes.filter((change) => !sent.includes(change));
      asking = null;
      show(answer);
      arriving = arrive(lines, answer.plan !== null, mine);
    } catch (why) {
      if (why.name === "AbortError" || mine !== turn) return;
      trouble("Turnwright does not answer. Start it again and change something: what you typed is still here.");
    }
  }

  // An answer comes in lines of JSON, each when it is made.
  async function* linesOf(response) {
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    let text = "";
    for (;;) {
      const { value, done } = await reader.read();
      if (done) break;
      const lines = (text + value).split("\n");
      text = lines.pop();
      for (const line of lines) yield JSON.parse(line);
    }
    if (text) yield JSON.parse(text);
  }

  // The rest of an answer, after what is in sight is painted.
  async function arrive(lines, planned, mine) {
    await painted();
    performance.mark("painted");
    for (const place of document.querySelectorAll("details.workings[open]")) worked(place);
    let whole = !planned;
    try {
      for await (const part of lines) {
        if (part.html) one(at(part.forecast ? "forecast" : `set-up-${part.set_up}`), made(part.html).firstChild);
        else if (part.weighed) {
          whole = true;
          if (at("weighed")) one(at("weighed"), made(part.weighed).firstChild);
        }
        else {
          steps = part.machine;
          place(false);
          performance.mark("whole");
        }
      }
    } catch {
      // What did not come is told below.
    }
    if (!whole) broken();
    place(false);
    if (mine === turn) at("plan").setAttribute("aria-busy", "false");
  }

  // A frame's own callbacks run before it is laid out and painted: what follows it comes after.
  // A page that nobody sees is not painted.
  const painted = () => new Promise((done) => (document.hidden ? done() : requestAnimationFrame(() => setTimeout(done))));

  function broken() {
    for (const part of document.querySelectorAll(".waits")) {
      part.classList.remove("waits");
      part.removeAttribute("data-stamp");
      const what = { forecast: "This forecast", weighed: "What else there is" }[part.id] || "This set-up";
      part.replaceChildren(`${what} did not arrive.`);
    }
    swap(at("machine"), "");
    steps = null;
    trouble("Turnwright stopped in the middle of its answer. Start it again and change something: what you typed is still here.");
  }

  // ---- showing ------------------------------------------------------------------------------------------------

  function show(answer) {
    unseen = outOfSight();
    now = { job: answer.job, shop: answer.shop };
    for (const name of ["job", "shop"]) {
      if (texts[name].value !== now[name]) texts[name].value = now[name];
      if (lines[name] !== answer[`${name}_lines`]) {
        lines[name] = answer[`${name}_lines`];
        at(`${name}-lines`).innerHTML = lines[name];
        at(`${name}-lines`).scrollTop = texts[name].scrollTop;
      }
    }
    form.elements.was.value = now.job;
    for (const name of ["job", "shop"]) at("open").elements[name].value = now[name];
    if (answer.fields !== null) swap(at("fields"), answer.fields);
    rest(answer.fields === null);
    swap(at("faults"), answer.faults);
    at("job-text").setAttribute("aria-invalid", String(at("job-lines").querySelector("b") !== null));
    at("lacks").textContent = answer.lacks;
    at("lacks").hidden = answer.lacks === "";
    if (answer.plan !== null) {
      swap(at("planned"), answer.plan);
      document.title = `${answer.title} - Turnwright`;
    }
    if (answer.plan !== null) own = true;
    if (answer.share !== null) share = answer.share;
    if (!own) none();
    old(own && answer.plan === null);
    tell(answer.answer);
    keep();
    offer();
    place(false);
  }

  // Fields that the text no longer fills: their faults were those of the text before.
  function rest(is) {
    at("fields").classList.toggle("resting", is);
    at("rest").hidden = !is;
    for (const field of at("fields").querySelectorAll("input, select")) {
      field.disabled = is;
      if (is) field.removeAttribute("aria-invalid");
    }
    if (is) for (const fault of at("fields").querySelectorAll(".fault")) fault.remove();
  }

  function old(is) {
    at("stale").hidden = !is;
    document.body.classList.toggle("is-old", is);
    at("plan").classList.toggle("old", is);
  }

  // The plan of another job, as the page was first served, is taken away.
  function none() {
    swap(at("planned"), "<p>There is no plan yet.</p>");
    swap(at("machine"), "");
    steps = null;
  }

  function tell(words) {
    at("answer").firstElementChild.textContent = words;
    clearTimeout(saying);
    saying = setTimeout(() => {
      at("said").textContent = words;
    }, SAY_MS);
  }

  // `keeps`: the texts stayed as they were, so that their plan still fits them.
  function trouble(words, keeps = false) {
    if (!keeps) {
      at("plan").setAttribute("aria-busy", "false");
      old(true);
    }
    const told = document.createElement("p");
    told.className = "trouble";
    told.textContent = words;
    at("faults").replaceChildren(told);
    tell(words);
  }

  // Makes a place say what the new text says, touching only what differs.
  function swap(place, html) {
    children(place, made(html));
  }

  function made(html) {
    const template = document.createElement("template");
    template.innerHTML = html;
    return template.content;
  }

  const alike = (a, b) => a && a.nodeName === b.nodeName && (a.id || "") === (b.id || "");

  function children(into, from) {
    let have = into.firstChild;
    for (const want of [...from.childNodes]) {
      let found = alike(have, want) ? have : null;
      if (!found && want.id) found = [...into.children].find((child) => alike(child, want)) || null;
      // What lies between is taken out, so that what has the focus is never moved.
      while (found && have !== found && follows(have, found)) {
        const gone = have;
        have = have.nextSibling;
        gone.remove();
      }
      if (found && found === have) {
        have = have.nextSibling;
        one(found, want);
      } else {
        into.insertBefore(want, have);
      }
    }
    while (have) {
      const gone = have;
      have = have.nextSibling;
      gone.remove();
    }
  }

  const follows = (a, b) => a && (a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;

  function one(is, want) {
    if (is.nodeType !== Node.ELEMENT_NODE) {
      if (is.nodeValue !== want.nodeValue) is.nodeValue = want.nodeValue;
      return;
    }
    if (is.matches("details.workings[open] > .here")) return;
    if (want.matches(".kept")) return;
    // The place of a part that is still to come: what stands there is veiled until then.
    if (want.matches(".waits")) {
      is.classList.add("waits");
      return;
    }
    if (is.nodeName === "svg") {
      if (!is.isEqualNode(want)) is.replaceWith(want);
      return;
    }
    for (const { name, value } of [...want.attributes]) {
      if (name !== "open" && is.getAttribute(name) !== value) is.setAttribute(name, value);
    }
    for (const { name } of [...is.attributes]) {
      if (name !== "open" && name !== "disabled" && !want.hasAttribute(name)) is.removeAttribute(name);
    }
    if (unseen.has(is)) is.replaceChildren(...want.childNodes);
    else children(is, want);
    if (is.nodeName === "INPUT" && is !== document.activeElement) is.value = want.getAttribute("value") || "";
    if (is.nodeName === "SELECT") is.value = want.value;
  }

  // Set-ups out of sight in which nobody has opened, chosen or marked anything: they are taken as they come, which is
  // quicker than comparing them. The places themselves stay, and with them the heights that the browser remembers.
  // Asked before anything is changed, since the answer lays the page out.
  function outOfSight() {
    const marks = getSelection();
    const untouched = (set_up) => {
      const marked = marks.rangeCount > 0 && marks.containsNode(set_up, true);
      const opened = set_up.querySelector("details[open]") !== null;
      return !isInSight(set_up) && !marked && !opened && !set_up.contains(document.activeElement);
    };
    return new Set([...document.querySelectorAll(".set-up")].filter(untouched));
  }

  function isInSight(part) {
    const { top, bottom } = part.getBoundingClientRect();
    return bottom > 0 && top < innerHeight;
  }

  // For the server: what is in sight is wanted first, a forecast that is here already is not wanted again.
  function seen() {
    const forecast = at("forecast");
    return {
      in_sight: [...document.querySelectorAll(".set-up")].filter(isInSight).map((set_up) => Number(set_up.id.slice("set-up-".length))),
      forecast: forecast?.dataset.stamp || "",
      forecast_in_sight: forecast !== null && isInSight(forecast),
    };
  }

  // ---- typing -------------------------------------------------------------------------------------------------

  function remember(force) {
    const at_ms = Date.now();
    const last = before[before.length - 1];
    const same = last && last.job === now.job && last.shop === now.shop;
    if (!same && (force || at_ms - noted > 1000)) {
      before.push({ ...now });
      if (before.length > 100) before.shift();
    }
    noted = at_ms;
    at("undo").disabled = before.length === 0;
  }

  // What comes out is told beside what came out before this field was touched, however many letters that took.
  function begins(name) {
    if (edited !== name) shareBefore = share;
    edited = name;
  }

  // Another job, which has another title, is not compared with the one before.
  function newJob() {
    [shareBefore, share] = [null, null];
  }

  function changed(field) {
    begins(field.name);
    remember(field.nodeName === "SELECT");
    changes = changes.filter(([key]) => key !== field.name);
    changes.push([field.name, field.value]);
    soon(field.nodeName === "SELECT" ? 0 : QUIET_MS);
  }

  function replace(which) {
    for (const name of Object.keys(which)) former(name, now[name], which[name]);
    remember(true);
    asked = false;
    edited = null;
    if ("job" in which) newJob();
    else shareBefore = share;
    Object.assign(now, which);
    changes = [];
    for (const name of ["job", "shop"]) texts[name].value = now[name];
    soon(0);
  }

  form.addEventListener("input", (event) => {
    const field = event.target;
    if (event.isComposing || field.closest(".files")) return;
    if (field === texts.job || field === texts.shop) {
      const why = tooMuch(field.value);
      if (why) {
        field.value = now[field.name];
        refuse(why);
        return;
      }
      begins(field.name);
      if (field === texts.job && TITLE.exec(field.value)?.[0] !== TITLE.exec(now.job)?.[0]) newJob();
      remember(false);
      now[field.name] = field.value;
      soon();
    } else if (field.nodeName === "SELECT" || field.value.trim() !== "") {
      if (field.nodeName === "SELECT") heard = `${field.name}=${field.value}`;
      changed(field);
    }
  });

  // A choice is told by both events, by a driver of the browser sometimes by `change` alone: it is heard once.
  form.addEventListener("change", (event) => {
    const field = event.target;
    if (field.nodeName !== "SELECT" || field.closest(".files")) return;
    if (heard !== `${field.name}=${field.value}`) changed(field);
    heard = null;
  });

  // ---- more than a job: told before it lands, since a browser stands still over a million lines ---------------

  // Why a text is more than a job or a shop; null: it may be taken.
  function tooMuch(text) {
    if (text.length > MOST) return `That is ${text.length} letters; a job and a shop are pages of text.`;
    let lines = 1;
    for (let from = text.indexOf("\n"); from >= 0; from = text.indexOf("\n", from + 1)) lines += 1;
    return lines > MOST_LINES ? `That is ${lines} lines; a job is a page of text, a shop a few.` : null;
  }

  function severalJobs(text) {
    const jobs = (text.match(/^[ \t]*\[stock\]/gm) || []).length;
    return jobs > 1 ? `That is ${jobs} jobs at once, and this page takes one: bring them one by one.` : null;
  }

  function refuse(why) {
    trouble(`${why} It was not taken; what was here before stays.`, true);
  }

  function brought(event) {
    const field = event.target.closest("textarea, input[type='text']");
    const carried = event.clipboardData || event.dataTransfer;
    if (!field || !carried) return;
    const text = carried.getData("text/plain");
    let why = null;
    if (field.nodeName === "INPUT") {
      if (text.length > MOST_IN_A_FIELD) why = `That is ${text.length} letters for one field; a few words go into it.`;
    } else {
      why = tooMuch(text) || severalJobs(text);
      if (!why && field.value.length + text.length > MOST) why = tooMuch(field.value + text);
    }
    if (!why) return;
    event.preventDefault();
    refuse(why);
  }

  form.addEventListener("paste", brought);
  form.addEventListener("drop", brought);

  // An emptied field is a change only when it is left: most are emptied to be filled again.
  form.addEventListener("change", (event) => {
    const field = event.target;
    if (field.nodeName === "INPUT" && !field.closest(".files") && field.value.trim() === "") changed(field);
  });

  form.addEventListener("focusout", () => {
    edited = null;
  });

  form.addEventListener("compositionend", (event) => {
    event.target.dispatchEvent(new Event("input", { bubbles: true }));
  });

  // Enter in a field must not leave the page.
  form.addEventListener("submit", (event) => {
    if (!event.submitter || !event.submitter.hasAttribute("formaction")) {
      event.preventDefault();
      asked = true;
      soon(0);
    }
  });

  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.nodeName === "INPUT") {
      event.preventDefault();
      asked = true;
      soon(0);
    }
  });

  at("undo").addEventListener("click", () => {
    const last = before.pop();
    at("undo").disabled = before.length === 0;
    if (!last) return;
    [shareBefore, edited] = [share, null];
    now = last;
    changes = [];
    for (const name of ["job", "shop"]) texts[name].value = now[name];
    soon(0);
  });

  for (const name of ["job", "shop"]) {
    texts[name].addEventListener("scroll", () => {
      at(`${name}-lines`).scrollTop = texts[name].scrollTop;
    });
  }

  // ---- going to a fault ---------------------------------------------------------------------------------------

  document.addEventListener("click", async (event) => {
    const link = event.target.closest("a[href^='#']");
    if (!link) return;
    if (link.dataset.line) {
      event.preventDefault();
      toLine(texts[link.dataset.text], Number(link.dataset.line));
      return;
    }
    const name = decodeURIComponent(link.hash.slice(1));
    const field = at(name)?.matches("input, select, textarea");
    if (field || name.startsWith("working-")) event.preventDefault();
    const target = await unfold(name);
    if (field) target.focus();
    else if (name.startsWith("working-") && target) {
      target.firstElementChild.focus();
      target.scrollIntoView({ block: "center" });
    }
  });

  function toLine(area, line) {
    area.closest("details").open = true;
    const lines = area.value.split("\n");
    const start = lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0);
    area.focus();
    area.setSelectionRange(start, start + (lines[line - 1] || "").length);
    area.scrollTop = (area.scrollHeight / lines.length) * Math.max(0, line - 5);
  }

  // ---- files --------------------------------------------------------------------------------------------------

  at("file").addEventListener("change", async (event) => {
    const file = event.target.files[0];
    if (!file) return;
    if (file.size > 4 * MOST) {
      refuse(`${file.name} has ${file.size} bytes; a job and a shop are pages of text.`);
    } else {
      try {
        const text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
        const plain = text.replaceAll("\r\n", "\n");
        const why = tooMuch(plain) || severalJobs(plain);
        const shop = !why && /^[ \t]*\[\[(lathe|chuck|tool|gauge)\]\]/m.test(plain);
        if (why) refuse(why);
        else replace(shop ? { shop: plain } : { job: plain });
      } catch {
        refuse(`${file.name} is not UTF-8 text; save it as UTF-8 and open it again.`);
      }
    }
    event.target.value = "";
  });

  for (const link of document.querySelectorAll("a[data-job]")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      const fresh = link.pathname.startsWith("/new");
      replace({ job: fresh ? link.dataset.job.replace(UNITS, `units = "${units()}"`) : link.dataset.job });
    });
  }

  // An order chosen in the table of other orders is written into its field, as if by hand.
  at("planned").addEventListener("click", (event) => {
    const take = event.target.closest("button.take");
    const field = at("field-order-seek");
    if (!take || !field) return;
    field.closest("details").open = true;
    field.value = take.dataset.seek;
    field.dispatchEvent(new Event("change", { bubbles: true }));
    field.focus();
  });

  // The units chosen: a new job begins with those of the one before.
  function units() {
    const chosen = UNITS.exec(now.job);
    return chosen ? chosen[1] : "mm";
  }

  at("school").addEventListener("click", () => {
    replace({ shop: at("school").dataset.shop });
  });

  // ---- kept in this browser -----------------------------------------------------------------------------------

  function keep() {
    try {
      localStorage.setItem(HOME, JSON.stringify(now));
    } catch {
      // A browser that keeps nothing still plans.
    }
  }

  function kept(where) {
    try {
      return JSON.parse(localStorage.getItem(where));
    } catch {
      return null;
    }
  }

  // Keeps a text that another takes the place of, over a reload too; what comes with Turnwright can be had again.
  function former(name, text, instead) {
    const plain = (of) => of.replace(UNITS, "").trim();
    const ours = [...document.querySelectorAll("[data-job], [data-shop]")].map((of) => of.dataset.job || of.dataset.shop);
    if (plain(text) === "" || text === instead || ours.some((of) => plain(of) === plain(text))) return;
    try {
      localStorage.setItem(FORMER, JSON.stringify({ name, text }));
    } catch {
      // A browser that keeps nothing still has its undo.
    }
    offer();
  }

  function offer() {
    const was = kept(FORMER);
    const there = was && typeof was.text === "string" && (was.name === "job" || was.name === "shop");
    at("former").hidden = !there || was.text === now[was.name];
    if (there) at("former").textContent = `Bring back the ${was.name} before`;
    return there ? was : null;
  }

  at("former").addEventListener("click", () => {
    const was = offer();
    if (was) replace({ [was.name]: was.text });
    at("former").focus();
  });

  // ---- workings: many, so they come when they are opened ---------------------------------------------------------

  document.addEventListener("toggle", (event) => {
    if (event.target.matches("details.workings") && event.target.open) worked(event.target);
  }, true);

  async function worked(place) {
    const mine = turn;
    const here = place.querySelector(".here");
    try {
      const response = await fetch("/working", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ job: now.job, shop: now.shop, set_up: Number(place.dataset.setUp) }),
      });
      const answer = await response.json();
      if (mine === turn && answer.html) swap(here, answer.html);
    } catch {
      here.textContent = "Turnwright does not answer. Start it again, then close and open this.";
    }
  }

  // Opens what holds the place that an address names; workings of another set-up are fetched first.
  async function unfold(name) {
    const place = /^working-(\d+)-/.exec(name);
    if (place && !at(name)) {
      const fold = at(`working-${place[1]}`);
      if (fold) await worked(fold);
    }
    const target = at(name);
    if (target) {
      for (let fold = target.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    }
    return target;
  }

  // ---- the bars that the shop lists: a dozen plans, so they are asked for outright --------------------------------

  document.addEventListener("click", async (event) => {
    const button = event.target.closest("#compare");
    if (!button) return;
    const here = at("bars");
    let mine = turn;
    button.disabled = true;
    const slow = setTimeout(() => {
      here.textContent = "Planning the part from each bar that may hold it: some seconds.";
    }, 300);
    try {
      const response = await fetch("/stock", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ job: now.job, shop: now.shop, changes }),
      });
      const answer = await response.json();
      clearTimeout(slow);
      if (answer.html) here.replaceChildren(made(answer.html));
      else here.textContent = answer.says;
    } catch {
      clearTimeout(slow);
      here.textContent = "Turnwright does not answer. Start it again and ask once more.";
      mine = turn;
    }
    here.classList.toggle("of-before", mine !== turn);
    button.disabled = false;
    at("said").textContent = here.querySelector("strong")?.textContent || here.textContent;
  });

  // A bar is taken into the job as if somebody had filled in its fields.
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-take]");
    if (!button) return;
    begins("stock");
    remember(true);
    for (const [key, value] of JSON.parse(button.dataset.take)) {
      changes = changes.filter(([name]) => name !== key);
      changes.push([key, value]);
    }
    soon(0);
    at("field-stock-form").focus();
  });

  // ---- at the machine -----------------------------------------------------------------------------------------

  let steps = null; // those of the latest plan, until somebody looks at them
  let touched = 0;
  let lock = null;
  let pressed = ".next";
  const KEY_LINES_APART_MM = 6; // lines of a key follow each other closer than this

  function card() {
    if (steps !== null && location.hash.startsWith("#machine-")) {
      swap(at("machine"), steps);
      steps = null;
    }
    return location.hash.startsWith("#machine-") ? at(location.hash.slice(1)) : null;
  }

  // Shows the step that the address names.
  function place(moved) {
    const here = card();
    for (const other of document.querySelectorAll(".card.now")) if (other !== here) other.classList.remove("now");
    document.body.classList.toggle("at-machine", here !== null);
    awake(here !== null);
    if (!here) return;
    here.classList.add("now");
    picture(here.querySelector("[data-of]"));
    if (!moved) return;
    (here.querySelector(pressed) || here.querySelector(".step[href]")).focus({ preventScroll: true });
    here.scrollTop = 0;
    const words = [...here.querySelector(".body").childNodes].filter((part) => !part.matches?.(".picture"));
    at("said").textContent = `${here.querySelector("h2").textContent}. ${words.map((part) => part.textContent).join(" ")}`;
  }

  function picture(frame) {
    const view = frame?.dataset.view;
    const drawn = frame && at(frame.dataset.of)?.querySelector(`figure.${view} svg`);
    if (!drawn || frame.querySelector("svg")) return;
    const made = document.createElement("template");
    made.innerHTML = drawn.outerHTML.replaceAll(`${view}-`, `${frame.closest(".card").id}-${view}-`);
    frame.replaceChildren(made.content);
    withoutKey(frame.querySelector("svg"));
  }

  // The key under a picture repeats what stands beside it in larger letters: the picture ends above it.
  function withoutKey(svg) {
    const words = [...svg.querySelectorAll("text.d-word:not([text-anchor]):not([transform])")];
    const lines = words.map((word) => Number(word.getAttribute("y"))).sort((a, b) => b - a);
    const height = svg.viewBox.baseVal.height;
    let top = height;
    for (const [at, line] of lines.entries()) {
      const apart = at === 0 ? height - line : lines[at - 1] - line;
      if (apart > KEY_LINES_APART_MM) break;
      top = line;
    }
    if (top === height) return;
    const above = top - KEY_LINES_APART_MM / 2;
    const ofKey = (mark) => (mark.nodeName === "text" ? Number(mark.getAttribute("y")) >= top : mark.getBBox().y >= above);
    for (const mark of [...svg.querySelectorAll("path, text")]) if (ofKey(mark)) mark.remove();
    svg.viewBox.baseVal.height = above;
    svg.setAttribute("preserveAspectRatio", "xMidYMin meet");
  }

  function go(link) {
    if (!link || Date.now() - touched < TWICE_MS) return;
    touched = Date.now();
    pressed = link.classList.contains("next") ? ".next" : ".back";
    location.replace(link.hash);
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest(".card .next, .card .back");
    if (!link) return;
    event.preventDefault();
    go(link);
  });

  document.addEventListener("keydown", (event) => {
    const here = card();
    if (!here || event.ctrlKey || event.altKey || event.metaKey) return;
    const onward = ["ArrowRight", "ArrowDown", "PageDown", " "];
    const backward = ["ArrowLeft", "ArrowUp", "PageUp"];
    if (event.key === "Escape") location.hash = "#plan";
    else if (onward.includes(event.key)) step(event, here.querySelector(".next"));
    else if (backward.includes(event.key)) step(event, here.querySelector(".back"));
  });

  function step(event, link) {
    event.preventDefault();
    if (!event.repeat) go(link);
  }

  window.addEventListener("hashchange", () => {
    place(true);
    if (!card() && location.hash === "#plan") at("plan").focus();
  });

  async function awake(wanted) {
    if (!wanted) {
      if (lock) lock.release();
      lock = null;
      return;
    }
    if (lock && !lock.released) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      document.body.classList.remove("dozes");
    } catch {
      document.body.classList.add("dozes");
    }
  }

  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && card()) awake(true);
  });

  // ---- beginning ----------------------------------------------------------------------------------------------

  const stored = kept(HOME);
  const whole = stored && typeof stored.job === "string" && typeof stored.shop === "string";
  const was = whole && !tooMuch(stored.job) && !tooMuch(stored.shop) ? stored : null;
  if (was && location.pathname === "/" && (was.job !== now.job || was.shop !== now.shop)) {
    now = was;
    own = false;
    soon(0);
  } else {
    if (location.pathname !== "/") {
      if (was) former("job", was.job, now.job);
      history.replaceState(null, "", `/${location.hash}`);
    }
    keep();
  }
  if (own && at("forecast")) share = Number(at("forecast").dataset.share);
  offer();
  at("job-text").setAttribute("aria-invalid", String(at("job-lines").querySelector("b") !== null));
  place(location.hash.startsWith("#machine-"));
})();
