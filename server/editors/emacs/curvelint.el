;;; curvelint.el --- Notes on the motion in exported scenes  -*- lexical-binding: t -*-

;; Put this file on your `load-path' and write in your init file:
;;
;;   (require 'curvelint)
;;
;; Scenes then open in `curvelint-scene-mode', with eglot showing the notes.
;; It needs eglot 1.9 or newer (part of Emacs 29; a package before).

;;; Code:

(require 'eglot)

(defgroup curvelint nil "Notes on the motion in exported scenes." :group 'tools)

(defcustom curvelint-command '("curvelint" "serve")
  "The program that is started and its arguments."
  :type '(repeat string))

(define-derived-mode curvelint-scene-mode prog-mode "Scene"
  "Major mode for exported scenes: USD as text, BVH and others."
  (setq-local comment-start "# ")
  (setq-local truncate-lines t))

(dolist (pattern '("\\.usda?\\'" "\\.bvh\\'" "\\.dae\\'" "\\.x3dv?\\'" "\\.wrl\\'" "\\.gltf\\'"))
  (add-to-list 'auto-mode-alist (cons pattern 'curvelint-scene-mode)))

(add-to-list 'eglot-server-programs
             (cons 'curvelint-scene-mode
                   (lambda (&rest _) curvelint-command)))

(add-hook 'curvelint-scene-mode-hook #'eglot-ensure)

(defun curvelint-goto-frame (frame)
  "Jump to the keys on FRAME."
  (interactive "sFrame: ")
  (let* ((found (jsonrpc-request (eglot--current-server-or-lose)
                                 :workspace/symbol (list :query frame)))
         (place (and (> (length found) 0) (plist-get (aref found 0) :location))))
    (unless place (user-error "No key on frame %s" frame))
    (find-file (eglot--uri-to-path (plist-get place :uri)))
    (goto-char (car (eglot--range-region (plist-get place :range))))))

(defun curvelint-compare ()
  "Say what changed since the earlier pass, in a window of its own."
  (interactive)
  (let ((found (jsonrpc-request (eglot--current-server-or-lose) :workspace/executeCommand
                                (list :command "curvelint.compare"
                                      :arguments (vector (list :uri (eglot--path-to-uri buffer-file-name)
                                                               :quiet t))))))
    (with-current-buffer (get-buffer-create "*curvelint-compare*")
      (let ((inhibit-read-only t))
        (erase-buffer)
        (insert (plist-get found :text))
        (goto-char (point-min)))
      (special-mode)
      (display-buffer (current-buffer)))))

(provide 'curvelint)
;;; curvelint.el ends here
