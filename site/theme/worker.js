// Keeps the whole handbook on the phone. Either every file of one edition is there, or none:
// each is checked against the hash written here when the handbook was built.
"use strict";

const STAMP = "@STAMP@";
const FILES = "@FILES@";
const SCOPE = self.registration.scope;
const MINE = "upstand " + new URL(SCOPE).pathname + " ";
const CACHE = MINE + STAMP;

async function hashOf(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function fetchWhole(file, older) {
  const url = new URL(file, SCOPE).href;
  for (const cache of older) {
    const kept = await cache.match(url);
    if (kept && kept.headers.get("x-hash") === FILES[file]) return kept;
  }
  const answer = await fetch(url, { cache: "no-cache", credentials: "same-origin" });
  const bytes = await answer.arrayBuffer();
  if (!answer.ok || (await hashOf(bytes)) !== FILES[file]) throw new Error("not whole: " + file);
  const type = answer.headers.get("content-type") || "application/octet-stream";
  return new Response(bytes, { headers: { "content-type": type, "x-hash": FILES[file] } });
}

async function store() {
  const names = (await caches.keys()).filter((name) => name.startsWith(MINE) && name !== CACHE);
  const older = await Promise.all(names.map((name) => caches.open(name)));
  const cache = await caches.open(CACHE);
  const left = Object.keys(FILES);
  const one = async () => {
    for (let file = left.pop(); file !== undefined; file = left.pop()) {
      await cache.put(new URL(file, SCOPE).href, await fetchWhole(file, older));
    }
  };
  try {
    await Promise.all([one(), one(), one(), one()]);
  } catch (fault) {
    await caches.delete(CACHE);
    throw fault;
  }
}

async function takeOver() {
  for (const name of await caches.keys()) {
    if (name.startsWith(MINE) && name !== CACHE) await caches.delete(name);
  }
  await self.clients.claim();
}

async function answer(request) {
  const url = new URL(request.url);
  url.search = url.hash = "";
  if (url.pathname.endsWith("/")) url.pathname += "index.html";
  const cache = await caches.open(CACHE);
  const kept = await cache.match(url.href);
  if (kept) return kept;
  try {
    return await fetch(request);
  } catch (fault) {
    if (request.mode !== "navigate") throw fault;
    const page = url.pathname.startsWith(new URL("es/", SCOPE).pathname) ? "es/" : "";
    return (await cache.match(new URL(page + "not-found.html", SCOPE).href)) || Response.error();
  }
}

self.addEventListener("install", (event) => event.waitUntil(store()));
self.addEventListener("activate", (event) => event.waitUntil(takeOver()));
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  if (event.request.method === "GET" && event.request.url.startsWith(SCOPE)) {
    event.respondWith(answer(event.request));
  }
});
