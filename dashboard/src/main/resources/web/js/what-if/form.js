/** What may be changed: labelled fields in the viewer's units, each with today's value beside it once it is changed. */
import { make } from '../page/dom.js';
import { length, pressure, temperature } from '../units/units.js';

/**
 * @typedef {import('../server/types.js').WhatIfKeys} WhatIfKeys
 * @typedef {import('../server/types.js').WhatIfKey} WhatIfKey
 *
 * @typedef {object} Measure how a quantity is read and written
 * @property {() => string} label
 * @property {(value: number) => number} from the server's unit
 * @property {(value: number) => number} to it
 * @property {() => number} decimals
 *
 * @typedef {object} Field
 * @property {string} key
 * @property {string} label in words, for sentences
 * @property {HTMLInputElement|HTMLSelectElement} input
 * @property {HTMLElement} was
 * @property {Measure|null} measure null for words
 * @property {number|string} today
 * @property {number|string|null} typed in the server's unit; null for what cannot be read
 * @property {string} unit the server's
 * @property {number|null} low
 * @property {number|null} high
 *
 * @typedef {{material: string, described: string, thicknessMm: number|null}} LayerRow
 */

/** @type {Record<string, {label: string, hint?: string}>} */
const LABELS = {
  target: { label: 'Target' },
  ambient: { label: 'Workshop' },
  altitude: { label: 'Height above the sea' },
  'burner.jet': { label: 'Jet bore' },
  'burner.throat': { label: 'Throat bore' },
  'burner.choke': { label: 'Choke closes' },
  'burner.obstruction': { label: 'Obstruction closes' },
  'burner.heat-up-pressure': { label: 'Gas pressure for heating up' },
};

/** @type {Record<string, Measure>} */
const MEASURES = {
  temperature: unitMeasure(temperature, (value, unit) => (unit.label === '°F' ? (value - 32) / 1.8 : value)),
  pressure: unitMeasure(pressure, (value, unit) => value / unit.from(1)),
  length: unitMeasure(length, (value, unit) => value / unit.from(1)),
  share: { label: () => '%', from: (value) => value, to: (value) => value, decimals: () => 0 },
  altitude: { label: () => 'm', from: (value) => value, to: (value) => value, decimals: () => 0 },
};

/**
 * @param {() => import('../units/units.js').Unit} unit
 * @param {(value: number, unit: import('../units/units.js').Unit) => number} to
 * @returns {Measure}
 */
function unitMeasure(unit, to) {
  return { label: () => unit().label, from: (value) => unit().from(value), to: (value) => to(value, unit()), decimals: () => unit().decimals + 1 };
}

/** Most layers that the page builds: nobody has more. */
const MOST_LAYERS = 8;

/** The form. */
export class Form {
  /**
   * @param {HTMLElement} place
   * @param {() => void} work asked to
   * @param {() => void} touched something was changed
   */
  constructor(place, work, touched) {
    this.place = place;
    this.touched = touched;
    /** @type {WhatIfKeys|null} */
    this.keys = null;
    /** @type {Field[]} */
    this.fields = [];
    /** @type {LayerRow[]} */
    this.layers = [];
    place.addEventListener('submit', (event) => {
      event.preventDefault();
      work();
    });
  }

  clear() {
    this.keys = null;
    this.place.replaceChildren();
  }

  /** @param {WhatIfKeys} keys */
  open(keys) {
    this.keys = keys;
    this.reset();
  }

  /** Everything as it is today. */
  reset() {
    const { keys } = this;
    if (!keys) {
      return;
    }
    this.layers = keys.lining.map((layer) => ({ ...layer }));
    this.fields = [];
    const figures = new Map(keys.keys.map((key) => [key.key, this.figure(key)]));
    const of = (/** @type {string[]} */ ...names) => names.map((name) => figures.get(name) ?? '').filter((part) => part !== '');
    this.liningPlace = make('div', { class: 'what-if-layers' });
    this.work = /** @type {HTMLButtonElement} */ (make('button', { type: 'submit', class: 'main-act' }, 'Work it out'));
    const back = make('button', { type: 'button' }, 'All as today');
    back.addEventListener('click', () => {
      this.reset();
      this.touched();
    });
    this.place.replaceChildren(
      group('Burner', ...of('burner.jet', 'burner.throat', 'burner.choke', 'burner.obstruction', 'burner.heat-up-pressure'), this.fuel(keys)),
      group('Heat', ...of('target', 'ambient')),
      group('Openings', ...keys.openings.flatMap((opening) => this.opening(opening))),
      group('Lining, from the hot face outwards', this.liningPlace),
      make('p', { class: 'what-if-acts' }, this.work, back),
      make('p', { class: 'small' }, 'This page never rewrites the configuration, and nothing is kept until you ask for it.'),
    );
    this.drawLining();
    this.render();
  }

  /** @param {boolean} is */
  busy(is) {
    this.place.setAttribute('aria-busy', String(is));
  }

  /**
   * @param {string} key
   * @param {string} label
   * @param {HTMLInputElement|HTMLSelectElement} input
   * @param {Partial<Field>} more
   */
  field(key, label, input, more) {
    const id = `what-if-${key.replace(/[^a-z0-9]+/gi, '-')}`;
    const was = make('small', { id: `${id}-was`, class: 'was' });
    input.id = id;
    input.setAttribute('aria-describedby', was.id);
    /** @type {Field} */
    const field = { key, label, input, was, measure: null, today: '', typed: '', unit: '', low: null, high: null, ...more };
    field.typed = field.today;
    const caption = make('label', { for: id });
    this.fields.push(field);
    input.addEventListener('input', () => {
      this.read(field);
      this.mark(field);
      this.touched();
    });
    field.was.dataset.key = key;
    const box = make('div', { class: 'what-if-field' }, caption, input, was);
    box.dataset.key = key;
    return box;
  }

  /** @param {WhatIfKey} key */
  figure(key) {
    const input = /** @type {HTMLInputElement} */ (make('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off', enterkeyhint: 'done' }));
    const label = LABELS[key.key]?.label ?? key.key;
    return this.field(key.key, label, input, { measure: MEASURES[key.quantity], today: key.value ?? 0, unit: key.unit, low: key.low, high: key.high });
  }

  /** @param {WhatIfKeys} keys */
  fuel(keys) {
    const select = /** @type {HTMLSelectElement} */ (make('select'));
    for (const name of keys.fuels.includes(keys.fuel) ? keys.fuels : [keys.fuel, ...keys.fuels]) {
      select.add(new Option(name, name, false, name === keys.fuel));
    }
    return this.field('burner.fuel', 'Fuel', select, { today: keys.fuel });
  }

  /** @param {WhatIfKeys['openings'][0]} opening */
  opening(opening) {
    const plug = /** @type {HTMLSelectElement} */ (make('select'));
    for (const [value, text] of [['in', 'in'], ['out', 'out, or none']]) {
      plug.add(new Option(text, value, false, (value === 'in') === opening.plug));
    }
    const key = quoted(opening.name);
    return [
      ...(/** @type {const} */ ([['width', opening.widthMm], ['height', opening.heightMm]])).map(([side, today]) =>
        this.field(`opening.${key}.${side}`, `${capital(opening.name)}, ${side}`, /** @type {HTMLInputElement} */ (make('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off' })), {
          measure: MEASURES.length, today: today ?? 0, unit: 'mm', low: 1, high: 2000,
        })),
      this.field(`opening.${key}.plug`, `${capital(opening.name)}, plug`, plug, { today: opening.plug ? 'in' : 'out' }),
    ];
  }

  /** The layers, drawn anew when one comes or goes. */
  drawLining() {
    const { keys, liningPlace } = this;
    if (!keys || !liningPlace) {
      return;
    }
    this.fields = this.fields.filter((field) => !field.key.startsWith('lining.'));
    const own = keys.lining.filter((layer) => layer.described !== '');
    const rows = this.layers.map((layer, i) => {
      const today = keys.lining[i];
      const material = /** @type {HTMLSelectElement} */ (make('select'));
      for (const name of [...new Set([...own.map((each) => each.material), ...keys.materials.map((each) => each.name)])]) {
        const limit = keys.materials.find((each) => each.name === name)?.serviceLimitC;
        material.add(new Option(limit === undefined || limit === null ? name : `${name} (to ${MEASURES.temperature.from(limit).toFixed(0)} ${MEASURES.temperature.label()})`, name, false, name === layer.material));
      }
      material.addEventListener('change', () => {
        layer.material = material.value;
        layer.described = own.find((each) => each.material === material.value)?.described ?? '';
      });
      const thick = /** @type {HTMLInputElement} */ (make('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off' }));
      const away = make('button', { type: 'button', 'aria-label': `Take layer ${i + 1} away` }, 'Take away');
      away.hidden = this.layers.length === 1;
      away.addEventListener('click', () => this.relayer(i, -1));
      const fields = [
        this.field(`lining.${i}.material`, `Layer ${i + 1}`, material, { today: today?.material ?? '' }),
        this.field(`lining.${i}.thickness`, `Layer ${i + 1}, thickness`, thick, { measure: MEASURES.length, today: today?.thicknessMm ?? 0, unit: 'mm', low: 1, high: 1000 }),
      ];
      const [ofMaterial, ofThickness] = this.fields.slice(-2);
      ofMaterial.typed = layer.material;
      ofThickness.typed = layer.thicknessMm;
      thick.addEventListener('input', () => {
        layer.thicknessMm = typeof ofThickness.typed === 'number' ? ofThickness.typed : null;
      });
      return make('div', { class: 'what-if-layer' }, ...fields, away);
    });
    const add = /** @type {HTMLButtonElement} */ (make('button', { type: 'button', id: 'what-if-add-layer' }, 'Add a layer outside'));
    add.disabled = this.layers.length >= MOST_LAYERS;
    add.addEventListener('click', () => this.relayer(this.layers.length, 1));
    liningPlace.replaceChildren(...rows, add);
  }

  /**
   * @param {number} at
   * @param {number} by 1 for one more, −1 for one less
   */
  relayer(at, by) {
    if (by > 0) {
      this.layers.push({ material: 'ceramic-fibre-blanket-1260', described: '', thicknessMm: 25 });
    } else {
      this.layers.splice(at, 1);
    }
    this.drawLining();
    this.render();
    this.touched();
    const next = this.place.querySelector(by > 0 ? `#what-if-lining-${at}-material` : '#what-if-add-layer');
    /** @type {HTMLElement|null} */ (next)?.focus();
  }

  /** Shows what is typed in the viewer's units. */
  render() {
    for (const field of this.fields) {
      const label = /** @type {HTMLElement} */ (field.input.parentElement?.querySelector('label'));
      label.textContent = field.measure ? `${field.label}, ${field.measure.label()}` : field.label;
      if (typeof field.typed === 'number' && field.measure) {
        field.input.value = shown(field, field.typed);
      } else if (typeof field.typed === 'string' && !field.measure) {
        field.input.value = field.typed;
      }
      this.mark(field);
    }
  }

  /** @param {Field} field */
  read(field) {
    if (!field.measure) {
      field.typed = field.input.value;
      return;
    }
    const text = field.input.value.trim().replace('−', '-').replace(',', '.');
    const value = text === '' ? Number.NaN : Number(text);
    // What stands there untouched is today's to the last digit.
    field.typed = !Number.isFinite(value) ? null : typeof field.today === 'number' && field.input.value === shown(field, field.today) ? field.today : rounded(field.measure.to(value));
  }

  /**
   * Says what is wrong with a field, or how it is today when it is changed.
   *
   * @param {Field} field
   * @returns {boolean} whether it can be used
   */
  mark(field) {
    const { typed, low, high, measure, today } = field;
    const good = typed !== null && (typeof typed === 'string' || ((low === null || typed >= low - 1e-9) && (high === null || typed <= high + 1e-9)));
    field.input.setAttribute('aria-invalid', String(!good));
    if (!good && measure && low !== null && high !== null) {
      field.was.textContent = `a number from ${shown(field, low)} to ${shown(field, high)}`;
    } else if (typed === today) {
      const fromLog = this.keys?.keys.find((key) => key.key === field.key)?.fromLog;
      field.was.textContent = fromLog ? 'as the log says' : '';
    } else if (field.key.startsWith('lining.') && !this.keys?.lining[Number(field.key.split('.')[1])]) {
      field.was.textContent = 'today: no such layer';
    } else {
      field.was.textContent = `today: ${typeof today === 'number' ? `${shown(field, today)} ${measure?.label() ?? ''}` : today}`;
    }
    return good;
  }

  /** @returns {Record<string, string>|null} what differs from today, as the server takes it; null when something is wrong */
  changes() {
    const bad = this.fields.filter((field) => !this.mark(field));
    if (bad.length > 0) {
      bad[0].input.focus();
      return null;
    }
    /** @type {Record<string, string>} */
    const changes = {};
    for (const field of this.fields) {
      if (field.typed === field.today || /^lining\.|\.(width|height)$/.test(field.key)) {
        continue;
      }
      changes[field.key] = typeof field.typed === 'number' ? `${field.typed} ${field.unit}` : String(field.typed);
    }
    this.openingSizes(changes);
    this.lining(changes);
    return changes;
  }

  /** @param {Record<string, string>} changes */
  openingSizes(changes) {
    for (const opening of this.keys?.openings ?? []) {
      const key = `opening.${quoted(opening.name)}`;
      const [width, height] = ['width', 'height'].map((side) => this.fields.find((field) => field.key === `${key}.${side}`)?.typed);
      if (width !== opening.widthMm || height !== opening.heightMm) {
        changes[`${key}.size`] = `["${width} mm", "${height} mm"]`;
      }
    }
  }

  /** @param {Record<string, string>} changes */
  lining(changes) {
    const today = this.keys?.lining ?? [];
    const same = this.layers.length === today.length && this.layers.every((layer, i) => layer.material === today[i].material);
    if (same) {
      this.layers.forEach((layer, i) => {
        if (layer.thicknessMm !== today[i].thicknessMm) {
          changes[`lining.${i}.thickness`] = `${layer.thicknessMm} mm`;
        }
      });
      return;
    }
    const layers = this.layers.map(({ material, described, thicknessMm }) =>
      `{ material = ${JSON.stringify(material)}, thickness = "${thicknessMm} mm"${described === '' ? '' : `, ${described}`} }`);
    changes.lining = `[${layers.join(', ')}]`;
  }
}

/**
 * @param {Field} field
 * @param {number} value in the server's unit
 */
function shown(field, value) {
  const { measure } = field;
  if (!measure) {
    return String(value);
  }
  // A decimal too few would turn what is typed into something else.
  return String(Number(measure.from(value).toFixed(measure.decimals()))).replace('-', '−');
}

/** @param {number} value without the dust of binary fractions */
const rounded = (value) => Number(value.toPrecision(10));

/** @param {string} name of an opening, as a part of a dotted key */
const quoted = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : JSON.stringify(name));

/** @param {string} text */
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * @param {string} name
 * @param {...(Node|string)} parts
 */
function group(name, ...parts) {
  return make('fieldset', {}, make('legend', {}, name), make('div', { class: 'what-if-fields' }, ...parts));
}
