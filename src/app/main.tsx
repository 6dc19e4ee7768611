import { createRoot } from 'react-dom/client';
import { StrictMode } from 'react';
import '../screen/styles/screen.css';
import { startApp } from './start.tsx';

const root = createRoot(document.getElementById('root')!);
startApp((page) => root.render(<StrictMode>{page}</StrictMode>));
