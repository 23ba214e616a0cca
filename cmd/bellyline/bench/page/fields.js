// The fields in which a pour is changed: what the shop has, colour by colour.

import { make } from './sheet.js';
import { look } from './state.js';

export function options(select, names, chosen) {
  select.replaceChildren(...names.map(n => new Option(n, n, false, n === chosen)));
  if (!names.includes(chosen)) select.append(new Option(chosen, chosen, true, true));
}

function field(text, input) {
  const label = make('label', text + ' ');
  label.append(input);
  return label;
}

function textField(value, changed, id) {
  const input = make('input');
  input.value = value; input.autocomplete = 'off'; input.spellcheck = false; input.id = id;
  input.addEventListener('change', () => changed(input.value.trim()));
  return input;
}

// barrelsOf names the barrels of an injector.
export function barrelsOf(choices, injector) {
  return choices.injectors.find(i => i.name === injector)?.barrels || [];
}

// colourFields makes a box for each colour; settings are changed in place.
export function colourFields(box, choices, settings, changed) {
  box.replaceChildren(...settings.colours.map((c, n) => {
    const set = make('fieldset'), legend = make('legend'), grid = make('div', undefined, 'fields');
    legend.append(make('span', undefined, `chip c${look(n)}`), c.name);
    const barrel = make('select');
    barrel.id = `barrel-${n}`;
    options(barrel, barrelsOf(choices, settings.injector), c.barrel);
    barrel.addEventListener('change', () => {
      const other = settings.colours.find(o => o !== c && o.barrel === barrel.value);
      if (other) { // the two change places
        other.barrel = c.barrel;
        document.getElementById(`barrel-${settings.colours.indexOf(other)}`).value = other.barrel;
      }
      c.barrel = barrel.value;
      changed();
    });
    grid.append(field(`${c.name}: barrel`, barrel), field(`${c.name}: pour at, F or C`, textField(c.pour, v => { c.pour = v; changed(); }, `pour-${n}`)));
    const more = make('details'), rest = make('div', undefined, 'fields');
    for (const name of choices.additives) if (!c.mix.some(d => d.additive === name)) c.mix.push({ additive: name, per_cup: '' });
    c.mix.forEach((d, k) => {
      const often = d.per_cup || d.additive === 'salt';
      (often ? grid : rest).append(field(`${c.name}: ${d.additive} to a cup`, textField(d.per_cup, v => { d.per_cup = v; changed(); }, `dose-${n}-${k}`)));
    });
    set.append(legend, grid);
    if (rest.children.length) { more.append(make('summary', `more into ${c.name}`), rest); set.append(more); }
    return set;
  }));
}
