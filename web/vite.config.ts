import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

// Names without hashes and no inlined assets: the same sources give the same bytes, and the page
// keeps to a content security policy without exceptions.
export default defineConfig({
  base: './',
  plugins: [svelte({ compilerOptions: { cssHash: ({ name, hash, filename }) => `s${name}-${hash(filename.replace(/^.*\/src\//, 'src/'))}` } })],
  build: {
    outDir: 'built',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rollupOptions: {
      output: {
        entryFileNames: 'assets/page.js',
        chunkFileNames: 'assets/[name].js',
        assetFileNames: 'assets/[name][extname]',
      },
    },
  },
  // The server answers its own page alone: what comes through here is to look like that.
  server: {
    proxy: {
      '/api': {
        target: 'http://127.0.0.1:8471',
        changeOrigin: true,
        configure: (proxy) => proxy.on('proxyReq', (request) => request.removeHeader('origin')),
      },
    },
  },
});
