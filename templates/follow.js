// The page of `follow`: what is new is put in its place. Without a server the page loads itself again.
const now = document.getElementById('now');
const lost = document.getElementById('lost');
if (location.protocol === 'file:') setInterval(() => location.reload(), 2000);
else {
  const events = new EventSource('events');
  events.onmessage = ({ data }) => {
    lost.hidden = true;
    const { title, main } = JSON.parse(data);
    const text = document.createElement('textarea');
    text.innerHTML = title;
    document.title = text.value;
    if (now.dataset.shown !== main) now.innerHTML = main;
    now.dataset.shown = main;
  };
  events.onerror = () => (lost.hidden = false);
}
