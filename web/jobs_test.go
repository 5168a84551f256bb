package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
)

// indexedJob are the fields of a Job that the manifests use, by their names in the API. Source: Kubernetes API
// reference, Job batch/v1, JobSpec, PodSpec and Container, from memory.
type indexedJob struct {
	APIVersion string   `yaml:"apiVersion"`
	Kind       string   `yaml:"kind"`
	Metadata   jobNamed `yaml:"metadata"`
	Spec       struct {
		Completions             int    `yaml:"completions"`
		Parallelism             int    `yaml:"parallelism"`
		CompletionMode          string `yaml:"completionMode"`
		BackoffLimit            int    `yaml:"backoffLimit"`
		TTLSecondsAfterFinished int    `yaml:"ttlSecondsAfterFinished"`
		Template                struct {
			Metadata jobNamed `yaml:"metadata"`
			Spec     jobPod   `yaml:"spec"`
		} `yaml:"template"`
	} `yaml:"spec"`
}

type jobNamed struct {
	Name   string            `yaml:"name"`
	Labels map[string]string `yaml:"labels"`
}

type jobPod struct {
	RestartPolicy                string `yaml:"restartPolicy"`
	AutomountServiceAccountToken *bool  `yaml:"automountServiceAccountToken"`
	SecurityContext              struct {
		RunAsNonRoot bool `yaml:"runAsNonRoot"`
		RunAsUser    int  `yaml:"runAsUser"`
		FSGroup      int  `yaml:"fsGroup"`
	} `yaml:"securityContext"`
	Containers []struct {
		Name      string   `yaml:"name"`
		Image     string   `yaml:"image"`
		Command   []string `yaml:"command"`
		Args      []string `yaml:"args"`
		Resources struct {
			Requests map[string]string `yaml:"requests"`
			Limits   map[string]string `yaml:"limits"`
		} `yaml:"resources"`
		VolumeMounts []struct {
			Name      string `yaml:"name"`
			MountPath string `yaml:"mountPath"`
		} `yaml:"volumeMounts"`
	} `yaml:"containers"`
	Volumes []struct {
		Name                  string `yaml:"name"`
		PersistentVolumeClaim struct {
			ClaimName string `yaml:"claimName"`
		} `yaml:"persistentVolumeClaim"`
	} `yaml:"volumes"`
}

// jobScript judges Jobs by the schema that Kubernetes publishes of its API, as another project compiled it.
const jobScript = `import { pathToFileURL } from "node:url";
const [folder, ...jobs] = process.argv.slice(1);
const { Job } = await import(pathToFileURL(folder + "/batch/v1/index.js"));
const faults = jobs.map((job) => {
	try { new Job(JSON.parse(job)).validate(); return ""; } catch (e) { return e.message; }
});
console.log(JSON.stringify(faults));`

// TestJobsFollowTheirSchema holds the manifests to the published schema, which faults in several kinds of values show
// to be one. It knows the values of every field and lets others pass, which TestJobsAreIndexed refuses. It is skipped
// where there is no schema: give the folder of the npm package kubernetes-models by RIBBAND_JOBS. Source: the OpenAPI
// of Kubernetes, batch/v1.
func TestJobsFollowTheirSchema(t *testing.T) {
	folder := os.Getenv("RIBBAND_JOBS")
	if folder == "" {
		t.Skip("no schema of Jobs: give the folder of the npm package kubernetes-models by RIBBAND_JOBS")
	}
	for name, text := range jobs(t) {
		asked := []string{text}
		for _, fault := range [][2]string{{"completions: 16", "completions: sixteen"},
			{"apiVersion: batch/v1", "apiVersion: batch/v2"},
			{"restartPolicy: Never", "restartPolicy: Sometimes"}, {"mountPath: /yard", "mountPath: 7"},
			{"completions: 16", "completions: 1.5"}} {
			asked = append(asked, strings.Replace(text, fault[0], fault[1], 1))
		}
		args := []string{"--input-type=module", "-e", jobScript, "--", folder}
		for _, x := range asked {
			job, err := yaml.YAMLToJSON([]byte(x))
			if err != nil {
				t.Fatal(err)
			}
			args = append(args, string(job))
		}
		out, err := exec.CommandContext(t.Context(), "node", args...).Output()
		if err != nil {
			t.Fatal(err)
		}
		var faults []string
		if err := json.Unmarshal(out, &faults); err != nil || len(faults) != len(asked) {
			t.Fatalf("%v: %s", err, out)
		}
		if faults[0] != "" {
			t.Errorf("%s: %s", name, faults[0])
		}
		for i, f := range faults[1:] {
			if f == "" {
				t.Errorf("the schema lets pass:\n%s", asked[i+1])
			}
		}
	}
}

// jobs are the manifests by their names.
func jobs(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "testdata", "jobs", "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatal("no manifests", err)
	}
	found := map[string]string{}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		found[filepath.Base(name)] = string(text)
	}
	return found
}

// TestJobsAreIndexed reads the manifests strictly: an indexed Job with as many completions as there are parts, whose
// command, run by a shell for each index, asks for each part once.
func TestJobsAreIndexed(t *testing.T) {
	for name, text := range jobs(t) {
		var job indexedJob
		if err := yaml.UnmarshalWithOptions([]byte(text), &job, yaml.Strict()); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		pod := job.Spec.Template.Spec
		if job.APIVersion != "batch/v1" || job.Kind != "Job" || job.Spec.CompletionMode != "Indexed" ||
			pod.RestartPolicy != "Never" && pod.RestartPolicy != "OnFailure" || len(pod.Containers) != 1 ||
			len(pod.Containers[0].VolumeMounts) == 0 || pod.Containers[0].VolumeMounts[0].Name != pod.Volumes[0].Name {
			t.Errorf("%s is no indexed Job: %+v", name, job)
		}
		for i := range job.Spec.Completions {
			if got, want := partOfIndex(t, pod.Containers[0].Args[0], i), fmt.Sprintf("%d/%d", i+1,
				job.Spec.Completions); got != want {
				t.Errorf("%s: index %d proves the part %q, want %s", name, i, got, want)
			}
		}
	}
}

// partOfIndex is the part that a command asks for at an index: the shell runs it with a program that says only that.
func partOfIndex(t *testing.T, command string, index int) string {
	t.Helper()
	dir := t.TempDir()
	write(t, filepath.Join(dir, "ribband"), "#!/bin/sh\necho \"$@\" >&2\n")
	if err := os.Chmod(filepath.Join(dir, "ribband"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "parts"), 0o700); err != nil {
		t.Fatal(err)
	}
	shell := exec.CommandContext(t.Context(), "/bin/sh", "-c", strings.ReplaceAll(command, "/yard/", dir+"/"))
	shell.Env = append(os.Environ(), "PATH="+dir+":"+os.Getenv("PATH"), fmt.Sprint("JOB_COMPLETION_INDEX=", index))
	out, err := shell.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", command, err, out)
	}
	words := strings.Fields(string(out))
	for i, w := range words[:len(words)-1] {
		if w == "-part" {
			return words[i+1]
		}
	}
	return ""
}
