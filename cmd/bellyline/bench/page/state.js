// What the page has in hand; every part of it reads here what the others know.

export const bench = {
  open: null,      // what the server opened
  settings: null,  // what is asked for
  last: null,      // the last answer
  parts: null,     // the bait parted by the line as drawn
};

export const $ = id => document.getElementById(id);

// cell is what stands on the page for a number of the pour.
export const cell = key => { for (const g of bench.last?.sheet || []) for (const r of g.rows) if (r.key === key) return r.metric; return ''; };

// look is the hatch of a colour: of three the middle one is barred, the last dotted.
export const look = (n, of = bench.settings.colours.length) => of === 3 ? [0, 2, 1][n] : n % 3;
