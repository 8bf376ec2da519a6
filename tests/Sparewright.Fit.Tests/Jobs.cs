using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Fit.Tests;

/// <summary>Jobs to find fits in.</summary>
internal static class Jobs
{
    public static string Root { get; } = FindRoot(AppContext.BaseDirectory);

    public static ProcessCapability AssumedMex { get; } = ProcessCapability.Assumed(new(ProcessKind.Mex, "some printer", "PLA", ""));

    public static Job Example(string name) => Read(File.ReadAllText(Path.Combine(Root, "examples", name, "job.yaml")));

    /// <summary>A round peg of 40 mm with an upright bore of 12.3 mm, a lying one of 5.2 mm, a slot of 3.2 mm, a hexagon pocket of 7.3 mm, a row of three holes 20 mm apart and a ring of four on 26 mm; and these counterparts.</summary>
    public static Job With(string counterparts, string print = "{way_up: up}") => Read(TextWith(counterparts, print));

    /// <summary>The text of the same.</summary>
    public static string TextWith(string counterparts, string print = "{way_up: up}") => $$"""
        sparewright: 1
        part: test
        could_injure: no
        instruments:
          caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0}
        sizes:
          peg_d: {fixed: 40}
          bore_d: {fixed: 12.3}
          cross_d: {about: 5.2}
          slot_w: {fixed: 3.2}
          across: {fixed: 7.3}
          pitch: {about: 20}
          circle: {fixed: 26}
          screw_d: {fixed: 4.5}
        shape:
          - plate: base
            thickness: 5
            outline: {rectangle: [120, 60], middle_at: [0, 0]}
          - boss: peg
            stands_on: base.top
            diameter: peg_d
            height: 30
          - hole: bore
            from: peg.top
            diameter: bore_d
            depth: 20
          - hole: cross
            axis: back
            at: [0, 0, 28]
            diameter: cross_d
            through: whole part
          - slot: gap
            from: peg.top
            between: [[-5, 14], [5, 14]]
            width: slot_w
            ends: square
            depth: 3
          - pocket: seat
            from: base.bottom
            outline: {hexagon: [0, 0], across_flats: across}
            depth: 3
          - row: screws
            count: 3
            pitch: pitch
            along: right
            middle_at: [0, -25]
            of: {hole: screw_hole, from: base.top, diameter: screw_d, through: base}
          - ring: bolts
            count: 4
            pitch_circle: circle
            middle_at: [45, 0]
            of: {hole: bolt_hole, from: base.top, diameter: screw_d, through: base}
        readings:
          - {outside: [screw_hole#1.wall, screw_hole#2.wall], reads: 15.5}
          - {inside: [screw_hole#2.wall, screw_hole#3.wall], reads: 24.5}
          - {inside: cross.wall, reads: 5.2}
        counterparts:
        {{string.Join('\n', counterparts.Split('\n').Select(l => $"  - {l}"))}}
        print: {{print}}
        """;

    public static Job Read(string text)
    {
        JobReading reading = JobFile.Read(text);
        Assert.Empty(reading.Problems.Select(p => p.In("job.yaml")));
        return reading.Job!;
    }

    public static Reconciled Reconciled(Job job)
    {
        Assert.True(Reconciliation.TryReconcile(job, out Reconciled? reconciled, out IReadOnlyList<Problem> problems), string.Join('\n', problems.Select(p => p.In("job.yaml"))));
        return reconciled;
    }

    public static JobFits Fits(Job job, ProcessCapability? process = null)
    {
        Assert.True(JobFits.TryFind(job, Reconciled(job), process ?? AssumedMex, out JobFits? fits, out IReadOnlyList<Problem> problems), string.Join('\n', problems.Select(p => p.In("job.yaml"))));
        return fits;
    }

    private static string FindRoot(string from)
    {
        for (var folder = new DirectoryInfo(from); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Sparewright.slnx"))) return folder.FullName;
        throw new InvalidOperationException("the tests lie outside the repository");
    }
}
