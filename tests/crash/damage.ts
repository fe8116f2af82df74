/** Damage to a session folder, chosen by a seed: the same seed gives the same damaged folder. */
import { seededRandom } from '../support/seeded-random';

export type FolderFiles = ReadonlyMap<string, Buffer>;
export type Damaged = Readonly<{ files: FolderFiles; said: string }>;

/** Whole numbers from 0 to `below` - 1, and choices, from one seed. */
type Chance = Readonly<{ below: (count: number) => number; of: <T>(list: readonly T[]) => T }>;

function makeChance(seed: number): Chance {
  const random = seededRandom(seed);
  const below = (count: number) => Math.floor(random() * count);
  return {
    below,
    of: (list) => {
      const chosen = list[below(list.length)];
      if (chosen === undefined) throw new Error('a choice needs a list that is not empty');
      return chosen;
    },
  };
}

type Damage = Readonly<{ name: string; apply: (bytes: Buffer, chance: Chance) => Buffer }>;

/** A stretch inside the bytes, at most `most` long. */
function stretch(bytes: Buffer, chance: Chance, most: number): readonly [from: number, to: number] {
  const from = chance.below(bytes.length + 1);
  return [from, Math.min(bytes.length, from + 1 + chance.below(most))];
}

function splice(bytes: Buffer, from: number, to: number, put: Buffer): Buffer {
  return Buffer.concat([bytes.subarray(0, from), put, bytes.subarray(to)]);
}

/** A stretch from the start of one line to the start of another. */
function lineStretch(
  bytes: Buffer,
  chance: Chance,
  most: number,
): readonly [from: number, to: number] {
  const from = bytes.indexOf(10, chance.below(bytes.length + 1)) + 1;
  let to = from;
  for (let count = 1 + chance.below(most); count > 0 && to < bytes.length; count -= 1) {
    const next = bytes.indexOf(10, to);
    to = next === -1 ? bytes.length : next + 1;
  }
  return [from, to];
}

const ODD_TEXTS = [
  '',
  ' ',
  '\t',
  '0',
  '-0',
  '-1',
  '1e999',
  '-1e999',
  'NaN',
  'inf',
  'null',
  '~',
  'true',
  '1,5',
  '1.2.3',
  '0x1f',
  '1_000',
  '99999999999999999999',
  '1e-320',
  '"',
  '""',
  "'",
  '[]',
  '{}',
  '[1, 2',
  '{ a: 1',
  '*alias',
  '&anchor',
  '!!binary x',
  '<<: *x',
  '# no',
  '---',
  '...',
  '../../../etc/hostname',
  '/etc/hostname',
  'C:\\a\\b',
  '..',
  '.',
  'con',
  'naïve',
  'ℝ→∞',
  '𝟙',
  '\u0000',
  '\u001b[31m',
  '\u202e',
  '\ufeff',
  '\u2028',
  '<script>alert(1)</script>',
  "'; drop table x; --",
  '=1+1',
  '00:00:00',
  '99:99:99.999',
  '2027-02-30T25:61:61Z',
  '2016-12-31T23:59:60Z',
  '2027-096T13:05:00Z',
  '-->',
  'NOTE',
  '::',
] as const;

const WHOLE_FILES = [
  ['empty', Buffer.alloc(0)],
  ['a line break', Buffer.from('\n')],
  ['zero bytes', Buffer.alloc(4096)],
  [
    'bytes that are no text',
    Buffer.from(Array.from({ length: 4096 }, (_, index) => (index * 197) & 255)),
  ],
  ['a head without a body', Buffer.from('utc,x,y,z\n')],
  ['a list', Buffer.from('- 1\n- 2\n')],
  ['an archive', Buffer.from([0x50, 0x4b, 3, 4, 20, 0, 0, 0, 8, 0])],
  ['deep brackets', Buffer.from('['.repeat(5000))],
  [
    'aliases of aliases',
    Buffer.from(
      `a: &a [x,x,x,x,x,x,x,x,x]\n${'bcdefghi'
        .split('')
        .map(
          (name, index) =>
            `${name}: &${name} [${Array(9).fill(`*${'abcdefgh'[index]}`).join(',')}]`,
        )
        .join('\n')}\n`,
    ),
  ],
] as const;

const DAMAGES: readonly Damage[] = [
  {
    name: 'bytes changed',
    apply: (bytes, chance) => {
      const copy = Buffer.from(bytes);
      for (let count = 1 + chance.below(8); count > 0 && copy.length > 0; count -= 1)
        copy[chance.below(copy.length)] = chance.below(256);
      return copy;
    },
  },
  {
    name: 'a bit flipped',
    apply: (bytes, chance) => {
      const copy = Buffer.from(bytes);
      const at = chance.below(Math.max(copy.length, 1));
      if (copy.length > 0) copy[at] = (copy[at] ?? 0) ^ (1 << chance.below(8));
      return copy;
    },
  },
  {
    name: 'a stretch deleted',
    apply: (bytes, chance) => splice(bytes, ...stretch(bytes, chance, 400), Buffer.alloc(0)),
  },
  {
    name: 'lines deleted',
    apply: (bytes, chance) => splice(bytes, ...lineStretch(bytes, chance, 12), Buffer.alloc(0)),
  },
  { name: 'cut off', apply: (bytes, chance) => bytes.subarray(0, chance.below(bytes.length + 1)) },
  {
    name: 'head cut off',
    apply: (bytes, chance) => bytes.subarray(chance.below(Math.min(bytes.length, 600) + 1)),
  },
  {
    name: 'lines doubled',
    apply: (bytes, chance) => {
      const [from, to] = lineStretch(bytes, chance, 12);
      return splice(bytes, to, to, bytes.subarray(from, to));
    },
  },
  {
    name: 'lines moved',
    apply: (bytes, chance) => {
      const [from, to] = lineStretch(bytes, chance, 6);
      const moved = bytes.subarray(from, to);
      const rest = splice(bytes, from, to, Buffer.alloc(0));
      const [at] = lineStretch(rest, chance, 1);
      return splice(rest, at, at, moved);
    },
  },
  {
    name: 'a word replaced',
    apply: (bytes, chance) => {
      const at = chance.below(bytes.length + 1);
      const tail = bytes.subarray(at).toString('latin1');
      const length = /^[A-Za-z0-9_.+-]*/.exec(tail)?.[0].length ?? 0;
      return splice(bytes, at, at + length, Buffer.from(chance.of(ODD_TEXTS)));
    },
  },
  {
    name: 'a number changed',
    apply: (bytes, chance) => {
      const from = chance.below(bytes.length + 1);
      const ahead = bytes.subarray(from).toString('latin1').search(/[0-9]/);
      if (ahead === -1) return bytes;
      const at = from + ahead;
      return splice(
        bytes,
        at,
        at + 1,
        Buffer.from(chance.of(['', '-', '9', '0', 'e9', '.', '::', '1e30'])),
      );
    },
  },
  {
    name: 'odd text put in',
    apply: (bytes, chance) =>
      splice(bytes, ...stretch(bytes, chance, 1), Buffer.from(chance.of(ODD_TEXTS))),
  },
  {
    name: 'a huge line put in',
    apply: (bytes, chance) => {
      const [at] = lineStretch(bytes, chance, 1);
      const fill = chance.of(['x', ',', '"', '1', ' ', 'é', '[', '-->']);
      return splice(
        bytes,
        at,
        at,
        Buffer.from(`${fill.repeat(chance.of([70_000, 300_000, 3_000_000]))}\n`),
      );
    },
  },
  {
    name: 'commas lost or gained',
    apply: (bytes, chance) => {
      const text = bytes.toString('latin1');
      const at = text.indexOf(',', chance.below(text.length + 1));
      if (at === -1) return bytes;
      return splice(bytes, at, at + chance.below(2), Buffer.from(chance.of(['', ',,', ';', '\t'])));
    },
  },
  {
    name: 'line ends lost',
    apply: (bytes, chance) =>
      Buffer.from(
        bytes.toString('latin1').replaceAll('\n', chance.of(['\r', '\r\n', ' ', '\n\n'])),
        'latin1',
      ),
  },
  {
    name: 'UTF-16',
    apply: (bytes) =>
      Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(bytes.toString('utf8'), 'utf16le')]),
  },
  {
    name: 'a byte order mark',
    apply: (bytes) => Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), bytes]),
  },
];

/** Damages one to three files; sometimes a file is missing or another one altogether. A negative seed damages none. */
export function damageFolder(base: FolderFiles, seed: number): Damaged {
  if (seed < 0) return { files: base, said: 'whole' };
  const chance = makeChance(seed);
  const files = new Map(base);
  const said: string[] = [];
  for (let count = chance.of([1, 1, 1, 2, 3]); count > 0; count -= 1) {
    const name = chance.of([...base.keys()]);
    const bytes = files.get(name);
    const kind = chance.below(20);
    if (bytes === undefined) continue;
    if (kind === 0) {
      files.delete(name);
      said.push(`${name} missing`);
    } else if (kind === 1) {
      const [what, whole] = chance.of(WHOLE_FILES);
      files.set(name, whole);
      said.push(`${name} is ${what}`);
    } else if (kind === 2) {
      const other = chance.of([...base.keys()]);
      files.set(name, base.get(other) ?? Buffer.alloc(0));
      said.push(`${name} holds ${other}`);
    } else {
      const damage = chance.of(DAMAGES);
      files.set(name, damage.apply(bytes, chance));
      said.push(`${name}: ${damage.name}`);
    }
  }
  return { files, said: said.join('; ') };
}

/** One file damaged once or twice; a negative seed damages nothing. */
export function damageFile(bytes: Buffer, seed: number): Readonly<{ bytes: Buffer; said: string }> {
  if (seed < 0) return { bytes, said: 'whole' };
  const chance = makeChance(seed);
  const damages = [chance.of(DAMAGES), ...(chance.below(3) === 0 ? [chance.of(DAMAGES)] : [])];
  const damaged = damages.reduce((whole, damage) => damage.apply(whole, chance), bytes);
  return { bytes: damaged, said: damages.map(({ name }) => name).join('; ') };
}
