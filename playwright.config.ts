import { defineConfig } from '@playwright/test';

/** Another port lets two copies of the tests run side by side on one machine. */
const port = Number(process.env['E2E_PORT'] ?? 4399);
const address = `http://127.0.0.1:${port}`;

export default defineConfig({
  testDir: 'e2e',
  outputDir: 'test-results',
  workers: 1,
  retries: 0,
  forbidOnly: process.env['CI'] === 'true',
  timeout: 90_000,
  globalTimeout: 20 * 60_000,
  expect: { timeout: 15_000 },
  reporter: [['list'], ['json', { outputFile: '.cache/browser-tests.json' }]],
  use: {
    baseURL: address,
    viewport: { width: 1440, height: 900 },
    trace: 'retain-on-failure',
    launchOptions: {
      executablePath: process.env['CHROMIUM_PATH'] ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--disable-quic',
        '--no-first-run',
      ],
    },
  },
  webServer: {
    command: `npx vite preview --port ${port} --strictPort --host 127.0.0.1`,
    url: address,
    reuseExistingServer: false,
    timeout: 60_000,
  },
});
