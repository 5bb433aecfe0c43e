import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vitest/config'

// The built page goes into the Python package. File names carry no hash: the
// server sends them with no-store, and its table of files stays readable.
export default defineConfig({
  plugins: [svelte()],
  base: '/',
  build: {
    outDir: '../src/leverwright/server/static',
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: false,
    assetsInlineLimit: 0,
    rolldownOptions: {
      output: {
        entryFileNames: 'assets/page.js',
        chunkFileNames: 'assets/[name].js',
        assetFileNames: 'assets/[name][extname]',
      },
    },
  },
  server: { host: '127.0.0.1' },
  test: { include: ['tests/**/*.test.ts'], environment: 'node' },
})
