/** `npm start`: installs what is missing, builds, and serves the app on this machine only. */
import process from 'node:process';
import { makeAssets } from './assets.mjs';
import { ensureInstalled, nodeComplaint, ROOT } from './run.mjs';

const USUAL_PORT = 4173;

function stop(message) {
  console.error(message);
  process.exit(1);
}

/** Port asked for with `--port 5000` or `--port=5000`; null when none was. */
function askedPort(args) {
  let text = null;
  for (let i = 0; i < args.length; i++) {
    if (args[i] === '--port') text = args[++i] ?? '';
    else if (args[i].startsWith('--port=')) text = args[i].slice('--port='.length);
    else stop(`"${args[i]}" is not an option of npm start. It has one: npm start -- --port 5000`);
  }
  if (text === null) return null;
  const port = Number(text);
  if (!/^\d+$/.test(text) || port < 1 || port > 65535) {
    stop(`"${text}" is not a port. Give a number from 1 to 65535: npm start -- --port 5000`);
  }
  return port;
}

const port = askedPort(process.argv.slice(2));
const complaint = nodeComplaint();
if (complaint) stop(complaint);
process.chdir(ROOT);
if (!(await ensureInstalled())) process.exit(1);
if ((await makeAssets()) !== 0) process.exit(1);

const { build, preview } = await import('vite');
console.log('Building ...');
try {
  await build({ root: ROOT, logLevel: 'warn' });
} catch (error) {
  stop(`The build failed: ${error instanceof Error ? error.message : String(error)}`);
}

try {
  const server = await preview({
    root: ROOT,
    logLevel: 'warn',
    preview: { host: '127.0.0.1', port: port ?? USUAL_PORT, strictPort: port !== null, open: false },
  });
  const address = server.httpServer.address();
  const used = typeof address === 'object' && address ? address.port : (port ?? USUAL_PORT);
  console.log(`\nDripwright is ready. Open this address in a browser on this machine:\n`);
  console.log(`  http://127.0.0.1:${used}/\n`);
  console.log('Ctrl+C stops it.');
} catch (error) {
  const reason = error instanceof Error ? error.message : String(error);
  if (/already in use|EADDRINUSE/.test(reason)) {
    stop(`Port ${port} is already in use. Give another: npm start -- --port ${(port ?? USUAL_PORT) + 1}`);
  }
  stop(`The app could not be served: ${reason}`);
}
