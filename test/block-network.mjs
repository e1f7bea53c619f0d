// Preloaded into a command under test: any attempt to reach a network is written down and refused.

import dgram from "node:dgram";
import dns from "node:dns";
import { appendFileSync } from "node:fs";
import net from "node:net";

function refuse(what) {
  return (...args) => {
    appendFileSync(process.env.FERRULE_TEST_NETWORK_LOG, `${what} ${JSON.stringify(args[0] ?? null)}\n`);
    throw new Error(`network use refused in this test: ${what}`);
  };
}

net.Socket.prototype.connect = refuse("net.connect");
net.Server.prototype.listen = refuse("net.listen");
dgram.Socket.prototype.send = refuse("dgram.send");
for (const name of ["lookup", "resolve", "resolve4", "resolve6"]) dns[name] = refuse(`dns.${name}`);
for (const name of ["lookup", "resolve", "resolve4", "resolve6"]) dns.promises[name] = refuse(`dns.promises.${name}`);
globalThis.fetch = refuse("fetch");
