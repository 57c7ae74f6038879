/* The page side of a live element. Python sends `frame` (what to build) and `face` (what to show);
   this sends back what a person set. All text from `frame` is set as text; the HTML in `face` was
   built and escaped by the library's own page and drawing modules. */

const PAUSE = 600; // ms of stillness after which a text being typed is tried
const SLOW = 1500; // ms without an answer before the panel says that it waits
const QUIET = 700; // ms of stillness after which a screen reader is told, once, what came out
const LOST = 6000; // ms after which an unanswered message no longer holds the next one back
const LONG = 12000; // ms without an answer before it says what else may be the matter
const BUSY = "One moment: the computer is still working.";
const STUCK =
  "No answer yet. What you set is kept. If another cell is still running, wait for it. " +
  "If Python was restarted, click here and press Shift + Enter.";
const GONE = "Python was restarted: click here and press Shift + Enter. What you set last is kept.";
const OLD = "Feedback on your previous answer.";
const RECORD = "Record";
const STOP = "Stop";
const HAND_IN = ["check", "commit"]; // buttons that ask for a verdict
let count = 0;

/* A text of this page in the language that is spoken; Python hands the words over. */
const spoken = (frame, text) => (frame.words || {})[text] || text;

const make = (tag, className, ...children) => {
  const node = document.createElement(tag);
  if (className) node.className = className;
  // Else the notebook takes arrow keys and letters typed here for its own. It looks for this mark
  // on the element that has the keyboard; in text boxes it holds back by itself.
  if (["input", "select", "button"].includes(tag)) node.dataset.lmSuppressShortcuts = "true";
  node.append(...children);
  return node;
};
const setHtml = (node, html) => {
  if (node.shownHtml !== html) node.innerHTML = node.shownHtml = html;
};
/* A chart's axes stay while its curves move; `moving` is null for a picture of one piece. */
const setPicture = (node, html, moving, alt) => {
  setHtml(node, html);
  const layer = typeof moving === "string" && node.querySelector(".wb-moving");
  if (!layer) return;
  setHtml(layer, moving);
  layer.ownerSVGElement.setAttribute("aria-label", alt);
};
const setText = (node, text) => {
  if (node.textContent !== text) node.textContent = text;
  node.hidden = !text;
};

/* A sentence with a link to a lesson in it, such as [lesson 01](01_name.ipynb); returns its words. */
const LINK = /\[([^\]]+)\]\((\w+\.ipynb)\)/;
const setLinked = (node, text) => {
  const [before, words, place, after] = text.split(LINK);
  const said = words ? before + words + after : text;
  if (node.textContent !== said) {
    node.replaceChildren(before);
    if (words) node.append(Object.assign(make("a", "", words), { href: place, target: "_blank" }), after);
  }
  node.hidden = !text;
  return said;
};

/* A text being typed is tried after a pause, or at once when `now` is called. */
const patient = (box, changed, how) => {
  let timer = 0;
  const now = (why) => {
    clearTimeout(timer);
    changed(why);
  };
  box.addEventListener("input", () => {
    changed("editing");
    clearTimeout(timer);
    timer = setTimeout(() => changed(how), PAUSE);
  });
  box.addEventListener("change", () => now("typed"));
  return now;
};

/* A decoded sound as a WAV file of one channel and 16 bits, and bytes as text. */
const toWav = (sound) => {
  const count = sound.length;
  const view = new DataView(new ArrayBuffer(44 + 2 * count));
  const word = (at, text) => [...text].forEach((c, i) => view.setUint8(at + i, c.charCodeAt(0)));
  const rate = Math.round(sound.sampleRate);
  word(0, "RIFF");
  view.setUint32(4, 36 + 2 * count, true);
  word(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, 2 * rate, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  word(36, "data");
  view.setUint32(40, 2 * count, true);
  const channels = Array.from({ length: sound.numberOfChannels }, (_, i) =>
    sound.getChannelData(i),
  );
  for (let i = 0; i < count; i++) {
    const mean = channels.reduce((sum, one) => sum + one[i], 0) / channels.length;
    view.setInt16(44 + 2 * i, Math.max(-1, Math.min(1, mean)) * 32767, true);
  }
  return new Blob([view.buffer]);
};
const toBase64 = (blob) =>
  new Promise((done) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result.split(",")[1]);
    reader.readAsDataURL(blob);
  });

/* One control: `value` reads it, `show` sets it from Python's state. */
const BUILDERS = {
  typed(spec, id, changed) {
    const box = make("input", "wb-box");
    delete box.dataset.lmSuppressShortcuts;
    Object.assign(box, { type: "text", id, maxLength: 60, autocomplete: "off", spellcheck: false });
    const label = make("label", "wb-label", spec.label);
    label.htmlFor = id;
    const node = make("div", "wb-field", label, box);
    const slider = spec.low === undefined ? null : make("input", "wb-slider");
    const point = spec.point || "."; // before decimals, in the language that is spoken
    const inFigures = (number) => String(number).replace(".", point);
    const inWords = (text) => {
      const figures = spec.unit && text.endsWith(spec.unit) ? text.slice(0, -spec.unit.length) : "";
      return /[0-9]\s*$/.test(figures) ? `${figures.trim()} ${spec.unit_words}` : text;
    };
    if (slider) {
      const { low: min, high: max, step } = spec;
      Object.assign(slider, { type: "range", min, max, step });
      slider.setAttribute("aria-label", spec.slider_label);
      const ends = [min, max].map((end) => make("span", "", `${inFigures(end)} ${spec.unit}`.trim()));
      const scale = make("div", "wb-scale", ...ends);
      scale.setAttribute("aria-hidden", "true");
      box.remove();
      node.append(make("div", "wb-pair", box, make("div", "wb-travel", slider, scale)));
      slider.addEventListener("input", () => {
        box.value = `${inFigures(slider.valueAsNumber.toFixed(spec.decimals))} ${spec.unit}`.trim();
        slider.setAttribute("aria-valuetext", inWords(box.value));
        changed("slid");
      });
    }
    const now = patient(box, changed, "typing");
    box.addEventListener("keydown", (event) => {
      if (event.key === "Enter") now("entered");
    });
    return {
      node,
      focus: box,
      value: () => box.value,
      show(state) {
        if (box.value !== state.value) box.value = state.value;
        if (!slider || state.position === null) return;
        slider.value = state.position;
        slider.setAttribute("aria-valuetext", inWords(state.words));
      },
      place(state) {
        if (slider && state.position !== null) slider.value = state.position;
        if (slider) slider.setAttribute("aria-valuetext", inWords(state.words));
      },
      lock(locked) {
        box.readOnly = locked;
        if (slider) slider.disabled = locked;
      },
    };
  },

  text(spec, id, changed) {
    const box = make("textarea", "wb-box wb-text");
    Object.assign(box, { id, rows: spec.rows, maxLength: spec.longest, spellcheck: false });
    box.autocomplete = "off";
    delete box.dataset.lmSuppressShortcuts; // with it, Enter would write no new line
    // Else Shift and Enter would run the cell under the hands of someone who is writing; and since
    // the notebook takes away the new line as well, it is written here.
    box.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.stopPropagation();
      if (!event.shiftKey) return;
      event.preventDefault();
      box.setRangeText("\n", box.selectionStart, box.selectionEnd, "end");
      box.dispatchEvent(new Event("input"));
    });
    const label = make("label", "wb-label", spec.label);
    label.htmlFor = id;
    // Unlike a single value, lines are complained of while others are still being written.
    patient(box, changed, "typed");
    return {
      node: make("div", "wb-field", label, box),
      focus: box,
      value: () => box.value,
      show(state) {
        if (box.value !== state.value) box.value = state.value;
      },
      lock: (locked) => (box.readOnly = locked),
    };
  },

  /* A sound: recorded here, or any file that the browser can play. It is handed over once. */
  sound(spec, id, changed) {
    const file = make("input", "wb-box");
    Object.assign(file, { type: "file", id, accept: "audio/*,.wav" });
    const label = make("label", "wb-label", spec.label);
    label.htmlFor = id;
    const button = make("button", "wb-button", RECORD);
    button.type = "button";
    const told = make("p", "wb-help wb-heard");
    told.setAttribute("role", "status");
    let fresh = null;
    let recorder = null;
    const take = async (blob) => {
      setText(told, "Reading the sound …");
      try {
        const decoded = await new AudioContext().decodeAudioData(await blob.arrayBuffer());
        fresh = `wav:${await toBase64(toWav(decoded))}`;
        setText(told, `${decoded.duration.toFixed(1)} s of sound.`);
        changed("chosen");
      } catch {
        setText(told, "This browser cannot play that file. Save it as WAV and try again.");
      }
    };
    const record = async () => {
      if (recorder) return recorder.stop();
      try {
        const plain = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
        const stream = await navigator.mediaDevices.getUserMedia({ audio: plain });
        const parts = [];
        recorder = new MediaRecorder(stream);
        recorder.ondataavailable = (event) => parts.push(event.data);
        recorder.onstop = () => {
          stream.getTracks().forEach((track) => track.stop());
          recorder = null;
          button.textContent = RECORD;
          take(new Blob(parts));
        };
        recorder.start();
        button.textContent = STOP;
        setText(told, `Recording, for at most ${spec.seconds} s …`);
        setTimeout(() => recorder && recorder.stop(), 1000 * spec.seconds);
      } catch {
        setText(told, "No microphone may be used here. Choose a sound file instead.");
      }
    };
    button.addEventListener("click", record);
    button.hidden = !navigator.mediaDevices || !window.MediaRecorder;
    file.addEventListener("change", () => file.files[0] && take(file.files[0]));
    return {
      node: make("div", "wb-field", label, file, button, told),
      focus: file,
      value() {
        const once = fresh === null ? undefined : fresh;
        fresh = null;
        return once;
      },
      show() {},
      lock: (locked) => (file.disabled = button.disabled = locked),
    };
  },

  select(spec, id, changed) {
    const list = make("select", "wb-box");
    list.id = id;
    for (const [key, words] of spec.options) list.add(new Option(words, key));
    const label = make("label", "wb-label", spec.label);
    label.htmlFor = id;
    list.addEventListener("change", () => changed("chosen"));
    return {
      node: make("div", "wb-field", label, list),
      focus: list,
      value: () => list.value,
      show: (state) => (list.value = state.value),
      lock: (locked) => (list.disabled = locked),
    };
  },

  radio(spec, id, changed) {
    const legend = make("legend", "wb-label", spec.label);
    const node = make("fieldset", "wb-field wb-choices", legend);
    const buttons = spec.options.map(([key, words]) => {
      const button = make("input", "");
      Object.assign(button, { type: "radio", name: id, value: key });
      button.addEventListener("change", () => changed("chosen"));
      node.append(make("label", "wb-choice", button, make("span", "", words)));
      return button;
    });
    return {
      node,
      focus: node,
      value: () => (buttons.find((button) => button.checked) || { value: "" }).value,
      show: (state) => buttons.forEach((button) => (button.checked = button.value === state.value)),
      lock: (locked) => buttons.forEach((button) => (button.disabled = locked)),
    };
  },

  switch(spec, id, changed) {
    const tick = make("input", "");
    Object.assign(tick, { type: "checkbox", id });
    tick.addEventListener("change", () => changed("chosen"));
    return {
      node: make("div", "wb-field", make("label", "wb-choice", tick, make("span", "", spec.label))),
      focus: tick,
      value: () => tick.checked,
      show: (state) => (tick.checked = state.value === true),
      lock: (locked) => (tick.disabled = locked),
    };
  },
};

/* Add help and complaint to a control and tie them to it for screen readers. */
function complete(control, spec, id) {
  const help = make("p", "wb-help", spec.help || "");
  const complaint = make("p", "wb-complaint");
  help.id = `${id}-help`;
  complaint.id = `${id}-complaint`;
  help.hidden = !spec.help;
  control.node.append(help, complaint);
  const named = spec.help ? [help.id] : [];
  if (named.length) control.focus.setAttribute("aria-describedby", named.join(" "));
  control.complain = (words) => {
    control.said = setLinked(complaint, words);
    control.node.classList.toggle("wb-wrong", !!words);
    const ids = words ? [...named, complaint.id] : named;
    if (ids.length) control.focus.setAttribute("aria-describedby", ids.join(" "));
    else control.focus.removeAttribute("aria-describedby");
    if (control.focus.tagName !== "FIELDSET") {
      control.focus.setAttribute("aria-invalid", words ? "true" : "false");
    }
  };
  control.complain("");
  return control;
}

function render({ model, el }) {
  const frame = model.get("frame");
  const me = `wb${++count}-${Math.random().toString(36).slice(2, 8)}`;
  const controls = {};
  const waiting = []; // buttons pressed while an answer was due
  let typing = "";
  let sent = 0;
  let sentAt = 0;
  let due = false; // an answer is on its way
  let unsent = false; // something was set since the last message
  let editing = false; // a text is being typed
  let slow = 0;
  let quiet = 0;
  let heard = null; // what a screen reader was told last

  const title = make("div", "wb-title", frame.title);
  title.id = `${me}--title`;
  const alone = make("button", "wb-button wb-alone", spoken(frame, "Fill the screen"));
  Object.assign(alone, { type: "button", hidden: !frame.follows || !document.fullscreenEnabled });
  alone.addEventListener("click", () => {
    if (document.fullscreenElement === root) document.exitFullscreen();
    else root.requestFullscreen().catch(() => { alone.hidden = true; });
  });
  const lead = make("p", "wb-lead", frame.lead || "");
  lead.id = `${me}--lead`;
  lead.hidden = !frame.lead;
  lead.setAttribute("aria-live", "polite"); // an exercise may come again with other numbers
  const need = make("div", "wb-need"); // what an exercise wants: a formula, or which panel
  need.id = `${me}--need`;
  const verdict = make("div", "wb-verdict");
  const say = make("p", "wb-say wb-hidden");
  say.setAttribute("role", "status");
  const fault = make("p", "wb-fault");
  fault.setAttribute("role", "alert");
  const note = make("p", "wb-note");
  const made = make("a", "wb-made"); // opens a page that a button has written
  Object.assign(made, { target: "_blank", rel: "noopener" });
  const wait = make("p", "wb-wait");
  wait.setAttribute("role", "status");
  const setting = make("p", "wb-setting");
  const picture = make("div", "wb-picture");
  const details = make("div", "wb-details");
  details.setAttribute("aria-live", frame.follows ? "off" : "polite");
  const buttons = make("div", "wb-buttons");
  const board = make("fieldset", "wb-controls", make("legend", "wb-hidden", spoken(frame, "Settings")));

  const mark = () => root.toggleAttribute("data-waiting", due || unsent || editing);
  const tell = () => {
    const wrong = frame.fields
      .filter(({ name }) => controls[name].said)
      .map(({ name, label }) => `${label}: ${controls[name].said}`);
    const words = [...wrong, note.textContent, note.textContent ? "" : verdict.textContent];
    const text = words.join(" ").trim();
    if (text !== heard && heard !== null) say.textContent = text;
    heard = text;
  };

  const send = () => {
    const now = performance.now();
    if (due && now - sentAt < LOST) return;
    sent += 1;
    sentAt = now;
    due = true;
    unsent = false;
    clearTimeout(slow);
    slow = setTimeout(() => {
      setText(wait, spoken(frame, BUSY));
      slow = setTimeout(() => setText(wait, spoken(frame, STUCK)), LONG - SLOW);
    }, SLOW);
    const values = {};
    for (const [name, control] of Object.entries(controls)) values[name] = control.value();
    try {
      model.send({ stamp: [me, sent], action: waiting.shift() || "", values });
    } catch {
      clearTimeout(slow);
      setText(wait, spoken(frame, GONE));
    }
  };

  /* What is handed in now must not stand under the verdict on what was handed in before; and a
     screen reader is told the new one even if it is the same. */
  const forget = () => {
    root.classList.add("wb-judging");
    setText(note, "");
    clearTimeout(quiet);
    say.textContent = heard = "";
  };

  const press = (action) => {
    waiting.push(action);
    if (HAND_IN.includes(action)) forget();
    unsent = true;
    send();
    mark();
  };

  const changed = (name) => (how) => {
    editing = how === "editing";
    if (editing && !frame.follows && verdict.textContent) {
      root.classList.add("wb-stale");
      setText(note, OLD);
    }
    if (editing) return mark();
    typing = how === "typing" ? name : "";
    if (frame.follows) {
      unsent = true;
      send();
    } else if (how === "entered" && buttons.firstChild) {
      buttons.firstChild.click();
    }
    mark();
  };

  for (const spec of frame.fields) {
    const id = `${me}-${spec.name}`;
    controls[spec.name] = complete(BUILDERS[spec.control](spec, id, changed(spec.name)), spec, id);
    board.append(controls[spec.name].node);
  }
  board.hidden = !frame.fields.length;

  const showButtons = (list) => {
    const key = JSON.stringify(list);
    if (buttons.shownKey === key) return;
    const held = buttons.contains(document.activeElement) && document.activeElement.name;
    buttons.shownKey = key;
    buttons.replaceChildren(
      ...list.map(({ name, label }, index) => {
        const button = make("button", index ? "wb-button" : "wb-button wb-first", label);
        Object.assign(button, { type: "button", name });
        button.addEventListener("click", () => press(name));
        return button;
      }),
    );
    buttons.hidden = !list.length;
    const next = [...buttons.children].find((button) => button.name === held);
    if (held && buttons.firstChild) (next || buttons.firstChild).focus();
  };

  /* The page comes with the answer, so that the link needs no path on any kind of server. */
  const offer = (opens) => {
    const { page = "", label = "" } = opens || {};
    made.hidden = !page;
    if (made.shownPage === page) return;
    if (made.shownPage) URL.revokeObjectURL(made.href);
    made.shownPage = page;
    made.textContent = label;
    if (page) made.href = URL.createObjectURL(new Blob([page], { type: "text/html" }));
    else made.removeAttribute("href");
  };

  const show = () => {
    const face = model.get("face");
    const [who, stamp] = face.answered;
    if (who === me && stamp === sent) {
      due = false;
      clearTimeout(slow);
      setText(wait, "");
    }
    if (who !== me || (!due && !waiting.length)) root.classList.remove("wb-judging");
    setText(lead, face.lead || frame.lead || "");
    setHtml(need, face.need || "");
    setHtml(verdict, face.verdict);
    setPicture(picture, face.picture, face.moving, face.alt);
    setHtml(details, face.details);
    setText(fault, face.fault);
    setText(note, typing ? "" : face.note);
    setText(setting, face.setting || "");
    offer(face.opens);
    el.firstChild.classList.toggle("wb-stale", !!face.note && !face.done && !typing);
    picture.hidden = !face.picture;
    for (const [name, state] of Object.entries(face.fields)) {
      const control = controls[name];
      if (!control) continue;
      // What a person is setting just now is newer than any answer.
      if (who !== me || !sent || (face.anew && !unsent)) control.show(state);
      else if (!unsent && !due && control.place) control.place(state);
      control.complain(typing === name ? "" : state.complaint);
      control.lock(!!state.locked);
    }
    showButtons(face.buttons || []);
    set.hidden = board.hidden && buttons.hidden;
    if (unsent && !due) send();
    mark();
    clearTimeout(quiet);
    if (heard === null) tell(); // what stands there from the start is read, not announced
    else quiet = setTimeout(tell, QUIET);
  };

  const result = make("div", "wb-result", setting, picture, details);
  const set = make("div", "wb-set", board, buttons);
  const body = make("div", "wb-body", set, result);
  const root = make("div", frame.follows ? "wb-panel" : "wb-panel wb-card");
  root.addEventListener("fullscreenchange", () => {
    const now = document.fullscreenElement === root ? "Back to the lesson" : "Fill the screen";
    alone.textContent = spoken(frame, now);
  });
  root.append(alone, title, lead, need, fault, wait, make("div", "wb-answer", note, made, verdict), body, say);
  root.setAttribute("role", "group");
  root.setAttribute("aria-labelledby", title.id);
  if (frame.lead) root.setAttribute("aria-describedby", `${lead.id} ${need.id}`);
  el.replaceChildren(root);
  el.classList.add("wb-host");
  setText(wait, "");
  show();
  const stop = () => {
    clearTimeout(slow);
    clearTimeout(quiet);
    model.off("change:face", show);
    model.off("change:frame", again);
  };
  const again = () => {
    const held = root.contains(document.activeElement) && document.activeElement;
    const at = held && [...root.querySelectorAll("input, select, button")].indexOf(held);
    stop();
    after = render({ model, el }); // other units: other labels and sliders
    if (held) el.querySelectorAll("input, select, button")[at]?.focus();
  };
  let after = null;
  model.on("change:face", show);
  model.on("change:frame", again);
  return () => (after ? after() : stop());
}

export default { render };
