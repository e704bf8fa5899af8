/**
 * Lets waiting messages in. A message to oneself queues behind those already there; a timer would be held back
 * to 4 ms after a few turns, which a preview of 100 ms cannot spare.
 */
export const breath = (): Promise<void> =>
  new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(0);
  });
