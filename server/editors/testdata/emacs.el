;;; Opens a shot with the snippet that people install and writes what Emacs
;;; shows to the file $RESULT.  -*- lexical-binding: t -*-

(require 'json)
(package-initialize)
(defvar test-here (file-name-directory load-file-name))
(add-to-list 'load-path (expand-file-name "../emacs" test-here))
(require 'curvelint)
(setq curvelint-command (list (getenv "CURVELINT") "serve"))
(setq make-backup-files nil create-lockfiles nil)

(defun test-wait (what ok)
  "Wait until OK returns non-nil, else fail naming WHAT."
  (let ((deadline (+ (float-time) 20)))
    (while (not (funcall ok))
      (when (> (float-time) deadline) (error "Waited in vain for %s" what))
      (accept-process-output nil 0.05))))

(defun test-severity (diag)
  (pcase (flymake-diagnostic-type diag)
    ('eglot-error "error") ('eglot-warning "warning") (_ "note")))

(defun test-notes ()
  (vconcat
   (mapcar
    (lambda (d)
      (let ((lsp (alist-get 'eglot-lsp-diag (flymake-diagnostic-data d))))
        `((line . ,(line-number-at-pos (flymake-diagnostic-beg d)))
          (severity . ,(aref ["" "error" "warning" "information" "hint"]
                             (plist-get lsp :severity)))
          (code . ,(plist-get lsp :code))
          (message . ,(plist-get lsp :message)))))
    (flymake-diagnostics))))

(defun test-names (symbols)
  (apply #'append
         (mapcar (lambda (s)
                   (cons (plist-get s :name) (test-names (plist-get s :children))))
                 symbols)))

(defun test-run (result)
  (let ((server (progn (find-file (getenv "SHOT"))
                       (unless (eglot-managed-p)
                         (apply #'eglot--connect (eglot--guess-contact)))
                       (test-wait "eglot" #'eglot-current-server)
                       (eglot-current-server))))
    (flymake-start)
    (test-wait "notes" #'flymake-diagnostics)
    (push (cons 'notes (test-notes)) result)
    (dolist (d (flymake-diagnostics))
      (when (equal "even-spacing"
                   (plist-get (alist-get 'eglot-lsp-diag (flymake-diagnostic-data d)) :code))
        (goto-char (flymake-diagnostic-beg d))))
    (let ((hover (jsonrpc-request server :textDocument/hover
                                  (eglot--TextDocumentPositionParams))))
      (push (cons 'hover (eglot--hover-info (plist-get hover :contents) (plist-get hover :range)))
            result))
    (push (cons 'parts
                (vconcat (test-names
                          (jsonrpc-request server :textDocument/documentSymbol
                                           (list :textDocument (eglot--TextDocumentIdentifier))))))
          result)
    (curvelint-goto-frame "1040")
    (push (cons 'jumped (buffer-substring (line-beginning-position) (line-end-position)))
          result)
    (test-fix server result)))

(defun test-even ()
  "Return the first note of even spacing, or nil."
  (seq-find (lambda (d)
              (equal "even-spacing"
                     (plist-get (alist-get 'eglot-lsp-diag (flymake-diagnostic-data d)) :code)))
            (flymake-diagnostics)))

(defun test-fix (server result)
  "Apply \"Ease this run\" at the even spacing and wait for the note to go."
  (let* ((beg (flymake-diagnostic-beg (test-even)))
         (actions (jsonrpc-request
                   server :textDocument/codeAction
                   (list :textDocument (eglot--TextDocumentIdentifier)
                         :range (list :start (eglot--pos-to-lsp-position beg)
                                      :end (eglot--pos-to-lsp-position beg))
                         :context '(:diagnostics []))))
         (action (seq-find (lambda (a) (string-prefix-p "Ease this run" (plist-get a :title)))
                           actions)))
    (push (cons 'fix (plist-get action :title)) result)
    (unless (plist-get action :edit)
      (setq action (jsonrpc-request server :codeAction/resolve action)))
    (eglot--apply-workspace-edit (plist-get action :edit))
    (eglot--signal-textDocument/didChange)
    (flymake-start)
    (test-wait "the note to go" (lambda () (not (test-even))))
    (push (cons 'after (test-notes)) result)
    (push (cons 'text (buffer-substring-no-properties (point-min) (point-max))) result)
    (test-compare result)))

(defun test-compare (result)
  "Save, open the next pass and say what changed in it."
  (save-buffer)
  (find-file (expand-file-name "deckhand_polish.usda" (file-name-directory (getenv "SHOT"))))
  (unless (eglot-managed-p)
    (eglot--maybe-activate-editing-mode))
  (test-wait "eglot in the next pass" #'eglot-managed-p)
  (curvelint-compare)
  (with-current-buffer "*curvelint-compare*"
    (push (cons 'compared (buffer-substring-no-properties (point-min) (point-max))) result))
  result)

(let ((result (condition-case err (test-run nil)
                (error (list (cons 'error (error-message-string err)))))))
  (with-temp-file (getenv "RESULT") (insert (json-encode result))))
