// Keeps the page and the engine on the device, so that both open with no network.
self.importScripts('./service-worker-assets.js');

const cacheName = `cockpit-${self.assetsManifest.version}`;
const base = new URL('./', self.location).href;

async function fill() {
  const cache = await caches.open(cacheName);
  const requests = self.assetsManifest.assets
    .filter(asset => !asset.url.includes('service-worker'))
    .map(asset => new Request(new URL(asset.url.replace(/^cockpit\//, ''), base), { integrity: asset.hash, cache: 'no-cache' }));
  await cache.addAll(requests);
}

self.addEventListener('install', event => event.waitUntil(fill()));

self.addEventListener('activate', event =>
  event.waitUntil(
    (async () => {
      for (const key of await caches.keys()) if (key.startsWith('cockpit-') && key !== cacheName) await caches.delete(key);
    })(),
  ),
);

self.addEventListener('fetch', event => {
  if (event.request.method !== 'GET' || !event.request.url.startsWith(base)) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(cacheName);
      const request = event.request.mode === 'navigate' ? new URL('index.html', base).href : event.request;
      return (await cache.match(request, { ignoreSearch: true })) ?? fetch(event.request);
    })(),
  );
});
