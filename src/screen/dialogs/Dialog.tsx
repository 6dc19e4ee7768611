import { useEffect, useRef, type ReactElement, type ReactNode } from 'react';

interface Props {
  readonly title: string;
  readonly className?: string;
  readonly children: ReactNode;
  onClose(): void;
}

/** A modal dialog; Escape and the backdrop close it, the browser keeps the focus inside. */
export function Dialog({ title, className = '', children, onClose }: Props): ReactElement {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const element = dialog.current!;
    if (!element.open) element.showModal();
  }, []);
  return (
    <dialog
      ref={dialog}
      className={`dialog ${className}`}
      aria-label={title}
      onClose={onClose}
      onClick={(event) => {
        if (event.target === dialog.current) dialog.current?.close();
      }}
    >
      <div className="dialog-body">
        <h2>{title}</h2>
        {children}
      </div>
    </dialog>
  );
}
