'use strict';
// Every figure shown is one that bothways computed and wrote into the data; this script chooses among them.
(() => {
  const data = JSON.parse(document.getElementById('data').textContent);
  const byId = (id) => document.getElementById(id);
  const make = (tag, text, attributes = {}) => {
    const element = document.createElement(tag);
    if (text !== undefined && text !== null) element.textContent = text;
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    return element;
  };

  // ---- charts

  // Blocks of columns to rows: arrays are columns, other values hold for all rows of the block.
  const rowsOf = (blocks) => {
    const rows = [];
    for (const block of blocks) {
      const columns = Object.keys(block).filter((key) => Array.isArray(block[key]));
      if (columns.length === 0) {
        rows.push({...block});
        continue;
      }
      for (let i = 0; i < block[columns[0]].length; ++i) {
        const row = {...block};
        for (const column of columns) row[column] = block[column][i];
        rows.push(row);
      }
    }
    return rows;
  };

  const darkScreen = matchMedia('(prefers-color-scheme: dark)');
  const printing = matchMedia('print');
  const palette = () => data.palettes[darkScreen.matches && !printing.matches ? 'dark' : 'light'];
  const config = (colours) => ({
    background: colours.paper,
    font: 'Liberation Sans, Helvetica Neue, Arial, Noto Sans, sans-serif',
    axis: {
      labelColor: colours.soft, titleColor: colours.soft, gridColor: colours.rule, gridOpacity: 0.6, domainColor: colours.soft,
      tickColor: colours.rule, labelFontSize: 12, titleFontSize: 12, titleFontWeight: 'normal',
    },
    legend: {labelColor: colours.ink, labelFontSize: 12, labelLimit: 240, symbolStrokeWidth: 2.2},
  });

  const tip = make('div', '', {class: 'tip', hidden: ''});
  document.body.append(tip);
  const showTip = (handler, event, item, value) => {
    tip.hidden = value === undefined || value === null || value === '';
    if (tip.hidden) return;
    tip.textContent = String(value);
    const left = Math.min(event.pageX + 12, document.documentElement.clientWidth - tip.offsetWidth - 8);
    tip.style.left = Math.max(4, left) + 'px';
    tip.style.top = event.pageY + 14 + 'px';
  };

  const views = new Map();  // id of a chart -> its view
  const signals = {};       // what the reader has chosen
  const widthOf = (box) => Math.max(240, Math.floor(box.clientWidth));

  const setSignals = (view, chosen) => {
    for (const [name, value] of Object.entries(chosen)) {
      try {
        view.signal(name, value);
      } catch (error) {
        // This chart has no such signal.
      }
    }
  };

  const draw = (figure) => {
    const id = figure.dataset.chart;
    const box = figure.querySelector('.chart');
    const spec = structuredClone(data.charts[id]);
    spec.description = box.dataset.label;
    const colours = palette();
    for (const signal of spec.signals) {
      if (signal.name in colours) signal.value = colours[signal.name];
      if (signal.name in signals) signal.value = signals[signal.name];
    }
    for (const set of spec.data) {
      if (set.name in data.tables) set.values = rowsOf(data.tables[set.name]);
    }
    const padding = typeof spec.padding === 'object' ? spec.padding.left + spec.padding.right : 0;
    box.dataset.width = widthOf(box);
    spec.width = widthOf(box) - padding;
    if (views.has(id)) views.get(id).finalize();
    const view = new charting.View(charting.parse(spec, config(colours), {ast: true}), {
      renderer: 'svg', container: box, hover: true, expr: charting.expressionInterpreter, tooltip: showTip,
    });
    views.set(id, view);
    view.run();
    // The runtime names the box in its own way. It is an image, and the sentence below says what it shows.
    box.setAttribute('role', 'img');
    box.setAttribute('aria-label', box.dataset.label);
    box.removeAttribute('aria-roledescription');
    box.querySelector('svg').setAttribute('aria-hidden', 'true');
  };

  const figures = [...document.querySelectorAll('figure[data-chart]')];
  const drawAll = () => figures.forEach(draw);
  const update = (chosen) => {
    Object.assign(signals, chosen);
    for (const view of views.values()) {
      setSignals(view, chosen);
      view.run();
    }
  };

  const save = (name, href) => {
    const link = make('a', '', {href, download: name});
    document.body.append(link);
    link.click();
    link.remove();
  };
  const saveText = (name, type, text) => {
    const href = URL.createObjectURL(new Blob([text], {type}));
    save(name, href);
    setTimeout(() => URL.revokeObjectURL(href), 1000);
  };
  for (const figure of figures) {
    const id = figure.dataset.chart;
    const title = figure.querySelector('h3').textContent;
    const bar = make('span', null, {class: 'save'});
    const svg = make('button', 'save SVG', {type: 'button', 'aria-label': `save SVG: ${title}`});
    const png = make('button', 'save PNG', {type: 'button', 'aria-label': `save PNG: ${title}`});
    svg.addEventListener('click', async () => saveText(id + '.svg', 'image/svg+xml', await views.get(id).toSVG()));
    png.addEventListener('click', async () => save(id + '.png', await views.get(id).toImageURL('png', 2)));
    bar.append(svg, png);
    figure.querySelector('h3').after(bar);
  }

  // ---- from mark to mark

  const from = byId('from');
  const to = byId('to');
  const first = data.splits.find((split) => split.asked) || data.splits[0];
  const splitOf = (a, b) => data.splits.find((split) => split.from === a && split.to === b);
  const order = (key, speed) => {
    const marks = new Map();
    for (const split of data.splits) marks.set(split[key], split[speed]);
    const rank = (value) => (value === null ? Infinity : value);
    return [...marks].sort((a, b) => (a[0] === 'rest' ? -1 : b[0] === 'rest' ? 1 : rank(a[1]) - rank(b[1]))).map((mark) => mark[0]);
  };
  const fill = (select, names, wanted) => {
    select.replaceChildren(...names.map((name) => make('option', name, {value: name})));
    select.value = names.includes(wanted) ? wanted : names[0];
  };
  const froms = data.splits.length ? order('from', 'from_speed') : [];
  const tos = data.splits.length ? order('to', 'to_speed') : [];
  const tosOf = (mark) => tos.filter((name) => splitOf(mark, name));

  const shownFigures = (figures) => (figures ? figures[4] : '');
  const table = (caption, heads, rows) => {
    const scroll = make('div', null, {class: 'scroll', tabindex: '0', role: 'region', 'aria-label': caption});
    const element = make('table', null, {class: 'figures'});
    element.append(make('caption', caption));
    const head = make('tr');
    for (const name of heads) head.append(make('th', name, {scope: 'col'}));
    const body = make('tbody');
    for (const row of rows) {
      const line = make('tr');
      row.forEach((cell, i) => line.append(i === 0 ? make('th', cell, {scope: 'row'}) : make('td', cell)));
      body.append(line);
    }
    const top = make('thead');
    top.append(head);
    element.append(top, body);
    scroll.append(element);
    return scroll;
  };

  const chosenTable = (split) => {
    const sides = data.sides;
    const heads = ['time of', ...sides.map((side) => side.name || 'seconds')];
    if (sides.length > 1) heads.push(...sides.slice(1).map((side) => (sides.length > 2 ? `${side.name} less ${sides[0].name}` : 'difference')));
    const ids = (key) => [...new Set(sides.flatMap((side) => side[key].map((row) => row.id)))].sort((a, b) => a - b);
    const cells = (key, id) => split.sides.map((side, i) => shownFigures(side[key][sides[i][key].findIndex((row) => row.id === id)]));
    const both = ['both ways, all pairs', ...split.sides.map((side) => shownFigures(side.overall))];
    if (sides.length > 1) both.push(...split.differences.map(shownFigures));
    const rows = [both];
    for (const id of ids('pairs')) rows.push([`pair ${id}`, ...cells('pairs', id)]);
    for (const id of ids('runs')) {
      const run = sides.length === 1 && sides[0].runs.find((row) => row.id === id);
      rows.push([`run ${id}${run && run.way ? ', ' + run.way : ''}`, ...cells('runs', id)]);
    }
    for (const row of rows) while (row.length < heads.length) row.push('');
    return table(`${split.name}: seconds, ${split.from === 'rest' ? data.clock_text : 'from mark to mark'}; ± is the 95 % interval`, heads, rows);
  };

  const choose = () => {
    const split = splitOf(from.value, to.value);
    byId('chosen').replaceChildren(chosenTable(split));
    byId('chosen').dataset.split = split.name;
    update({chosen: split.name, from_mark: split.from_speed, to_mark: split.to_speed});
  };
  const step = (by) => {
    const f = froms.indexOf(from.value) + by;
    const t = tos.indexOf(to.value) + by;
    if (from.value === 'rest' && t >= 0 && t < tos.length && splitOf('rest', tos[t])) {
      to.value = tos[t];
    } else if (f > 0 && f < froms.length && t < tos.length && splitOf(froms[f], tos[t])) {
      from.value = froms[f];
      fill(to, tosOf(froms[f]), tos[t]);
    } else {
      return;
    }
    choose();
  };

  if (first) {
    Object.assign(signals, {chosen: first.name, from_mark: first.from_speed, to_mark: first.to_speed});
    fill(from, froms, first.from);
    fill(to, tosOf(first.from), first.to);
    from.addEventListener('change', () => {
      fill(to, tosOf(from.value), to.value);
      choose();
    });
    to.addEventListener('change', choose);
    byId('lower').addEventListener('click', () => step(-1));
    byId('higher').addEventListener('click', () => step(1));
    byId('chop').addEventListener('submit', (event) => event.preventDefault());
    byId('chop').hidden = false;
  }

  // ---- a run left out

  const told = make('div', null, {id: 'leave-out', class: 'told', role: 'status', 'aria-live': 'polite'});
  const asked = 'A run that should not count, because of traffic or a missed gear? Take its tick away to see the result without it.';
  const counted = (pairs) => `${pairs} ${pairs === 1 ? 'pair' : 'pairs'}`;
  const withoutRun = ({side, run}, found) => {
    const of = data.sides[side].name;
    const lines = found.differences.length ? found.differences
      : found.splits.map((split) => `${split.name}: ${shownFigures(split.figures)} s, ${counted(split.pairs)}`);
    const list = make('ul');
    for (const line of lines.length ? lines : ['no pair is left']) list.append(make('li', line));
    return [make('strong', `Without run ${run}${of ? ' of ' + of : ''}`), list];
  };
  const leftOut = () => {
    const off = [];
    for (const box of document.querySelectorAll('input[data-run]')) {
      box.closest('tr').classList.toggle('off', !box.checked);
      if (!box.checked) off.push({side: Number(box.dataset.side), run: Number(box.dataset.run)});
    }
    told.replaceChildren();
    if (off.length === 0) {
      told.append(make('p', asked, {class: 'small'}));
      return;
    }
    const found = off.length === 1 ? data.sides[off[0].side].without.find((row) => row.run === off[0].run) : undefined;
    if (found) told.append(...withoutRun(off[0], found));
    const list = off.map(({side, run}) => (data.sides.length > 1 ? `${data.sides[side].name}:` : '') + run).join(',');
    const page = make('p', 'For a page without ' + (off.length === 1 ? 'it' : 'them') + ', give the same command with ', {class: 'small'});
    page.append(make('code', `--leave-out "${list}"`), '.');
    told.append(page);
  };
  document.querySelector('.side')?.before(told);
  for (const side of document.querySelectorAll('.side')) {
    const runs = side.querySelector('table.runs');
    if (!runs) continue;
    runs.querySelector('thead tr').prepend(make('th', 'counts', {scope: 'col', class: 'tick'}));
    for (const row of runs.querySelectorAll('tbody tr')) {
      const run = row.querySelector('th').textContent;
      const box = make('input', null, {type: 'checkbox', 'aria-label': `run ${run} counts`, 'data-run': run, 'data-side': side.dataset.side});
      box.checked = true;
      box.addEventListener('change', leftOut);
      const cell = make('td', null, {class: 'tick'});
      cell.append(box);
      row.prepend(cell);
    }
  }

  leftOut();

  // ---- copying

  const csv = byId('csv');
  byId('copy').addEventListener('click', async () => {
    csv.select();
    let done = document.execCommand('copy');
    if (!done && navigator.clipboard) done = await navigator.clipboard.writeText(csv.value).then(() => true, () => false);
    byId('copied').textContent = done ? 'Copied.' : 'Selected: copy it with the keyboard.';
  });
  byId('save-csv').addEventListener('click', () => saveText('bothways.csv', 'text/csv', csv.value));

  for (const section of document.querySelectorAll('main > section')) {
    if (section.children.length === 1) section.hidden = true;
  }
  if (first) choose();
  drawAll();
  const resized = new ResizeObserver((boxes) => {
    for (const {target} of boxes) {
      if (widthOf(target) !== Number(target.dataset.width)) draw(target.closest('figure'));
    }
  });
  for (const figure of figures) resized.observe(figure.querySelector('.chart'));
  darkScreen.addEventListener('change', drawAll);
  printing.addEventListener('change', drawAll);
  document.documentElement.dataset.ready = 'yes';
})();
