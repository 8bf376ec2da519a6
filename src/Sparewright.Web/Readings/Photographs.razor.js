// Sends chosen or dropped files, one after the other, straight over HTTP.
export function attach(zone, net, address) {
  const input = zone.querySelector('input[type=file]');
  const controller = new AbortController();
  const on = (type, act, target = zone) => target.addEventListener(type, act, { signal: controller.signal });

  // The files need no line to the shop; while that is down only the words about them are missing.
  const tell = (...what) => net.invokeMethodAsync('Sent', ...what).catch(() => undefined);

  async function send(files) {
    for (const file of files) {
      await tell(file.name, null, false);
      let problem = null;
      try {
        const answer = await fetch(`${address}?name=${encodeURIComponent(file.name)}`, { method: 'POST', headers: { 'X-Sparewright': '1', 'Content-Type': 'application/octet-stream' }, body: file, signal: controller.signal });
        if (!answer.ok) problem = (await answer.json().catch(() => null))?.problem ?? 'the shop did not take it';
      } catch {
        problem = 'the shop did not answer; try it again';
      }
      await tell(file.name, problem, problem === null);
    }
  }

  async function sendChosen() {
    const files = [...input.files];
    await send(files);
    input.value = '';
  }

  on('change', sendChosen, input);
  on('dragover', e => { if (e.dataTransfer?.types.includes('Files')) { e.preventDefault(); zone.classList.add('over'); } });
  on('dragleave', () => zone.classList.remove('over'));
  on('drop', e => { e.preventDefault(); zone.classList.remove('over'); send([...e.dataTransfer.files]); });
  // Chosen before this script came.
  if (input.files.length > 0) sendChosen();
  return { detach() { controller.abort(); } };
}
