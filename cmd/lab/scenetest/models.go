package scenetest

import (
	"os"
	"path/filepath"
	"testing"
)

// models is where Debian's package assimp-testmodels puts files of other writers.
const models = "/usr/share/assimp/models"

// Models returns the folder of Debian's package assimp-testmodels. A test is
// skipped where the package is not installed; with CI=true it fails.
func Models(t testing.TB) string {
	t.Helper()
	if _, err := os.Stat(models); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("CI must install the Debian package assimp-testmodels: %v", err)
		}
		t.Skipf("needs the Debian package assimp-testmodels (apt install assimp-testmodels): %v", err)
	}
	return models
}

// Model returns the text of a file in Models, such as "BVH/01_01.bvh".
func Model(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(Models(t), name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// MaybeModel is Model for a test that has other scenes as well: where the package is
// not installed it says what is left out and returns nil; with CI=true it fails.
func MaybeModel(t testing.TB, name string) []byte {
	t.Helper()
	if _, err := os.Stat(models); err != nil && os.Getenv("CI") != "true" {
		t.Logf("%s is left out: install the Debian package assimp-testmodels", name)
		return nil
	}
	return Model(t, name)
}
