// Asks the server. A refusal is an Error whose message is the server's one line.

async function told(response) {
  if (response.ok) return response;
  let line = `the bench answered ${response.status}`;
  try { line = (await response.json()).error || line; } catch { line = (await response.text().catch(() => '')) || line; }
  throw new Error(line);
}

const gone = () => new Error('the bench does not answer: it was ended, or this machine was asleep; start it again and reload this page');

export async function post(path, body, signal) {
  const response = await fetch(path, { method: 'POST', signal, headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body ?? {}) }).catch(() => { throw gone(); });
  return told(response);
}

export const ask = async (path, body, signal) => (await post(path, body, signal)).json();

export async function bytes(path) {
  return (await told(await fetch(path).catch(() => { throw gone(); }))).arrayBuffer();
}

// upload sends files and tells how much of them is on the other side.
export function upload(files, progress) {
  const form = new FormData();
  for (const f of files) form.append('files', f, f.name);
  return new Promise((done, refused) => {
    const request = new XMLHttpRequest();
    request.open('POST', '/api/upload');
    request.upload.onprogress = e => { if (e.lengthComputable) progress(e.loaded / e.total); };
    request.onerror = () => refused(gone());
    request.onload = () => {
      let answer = null;
      try { answer = JSON.parse(request.responseText); } catch { /* no answer of ours */ }
      if (request.status === 200 && answer) done(answer);
      else refused(new Error(answer?.error || `the bench answered ${request.status}`));
    };
    request.send(form);
  });
}

// save hands an answer over to the browser as a download.
export async function save(path, body) {
  const response = await post(path, body);
  const name = /filename="([^"]+)"/.exec(response.headers.get('Content-Disposition') || '')?.[1] || 'download';
  const link = document.createElement('a');
  link.href = URL.createObjectURL(await response.blob());
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  return name;
}
