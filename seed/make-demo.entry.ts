/** `node .built/make-demo.mjs DIR`: writes the demo's session folder. */
import { writeDemoFolder } from './make-demo';

const [dir] = process.argv.slice(2);
if (dir === undefined) {
  console.error('Say where to write the demo: node .built/make-demo.mjs DIR');
  process.exit(2);
}
await writeDemoFolder(dir);
console.log(`The demo's session folder is in ${dir}.`);
