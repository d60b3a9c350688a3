// @ts-check
// From now on the page opens with no network. Where a browser cannot, the page itself says so.
navigator.serviceWorker?.register('service-worker.js', { scope: './', updateViaCache: 'none' });
