// Package photos is the place of the photos. An inbox shows what waits in the
// folder that the phone fills, in series, from where pictures go to an animal, a
// pose or a finding. Of one animal it shows the standard poses, and two days side
// by side. Whatever is read or decoded runs as a task.
package photos
