using System.Globalization;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Next;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Next;

/// <summary>What to measure next, and whether the promise holds when it is measured.</summary>
public class NextReadingsTests
{
    [Fact]
    public void What_is_said_to_decide_decides_all_of_it_together()
    {
        // One reading from hole to hole says something of the pitch and of the diameter, and alone decides neither.
        Job job = Jobs.Of("{long: {about: 40}, t: {about: 5}, pitch: {about: 24}, hole: {about: 5}}", """
              - {block: body, long: long, deep: 30, tall: t, corner_at: [0, 0, 0]}
              - {hole: left, from: body.top, at: [long/2 - pitch/2, 8], diameter: hole, through: body}
              - {hole: right, from: body.top, at: [long/2 + pitch/2, 8], diameter: hole, through: body}
            """, "  - {outside: [body.left, body.right], reads: 40.01}");
        Reconciled open = Jobs.Reconcile(job);
        NextReading[] decide = [.. open.Next.Where(n => n.Purpose == Purpose.Decides)];
        Assert.Equal(["decides hole", "decides pitch", "decides t"], decide.Select(n => n.Why.Split(';')[0]).Order(StringComparer.Ordinal));
        Assert.Equal(3, decide.Select(n => n.Text).Distinct().Count());
        Reconciled after = Jobs.Reconcile(job with { Readings = [.. job.Readings, .. decide.Select((n, k) => n.Reading with { Id = $"n{k}", ReadsMm = [CaliperGeometry.Of(n.Reading, open.Shape).Mm!.Value.Value] })] });
        Assert.Empty(after.Undecided);
    }

    [Theory]
    [InlineData("depth: [bore.end, low.top], reads: 12", 1)]
    [InlineData("depth: [low.top, bore.end], reads: 12", 1)]
    [InlineData("depth: [bore.end, low.top], reads: 12", 2)]
    public void What_reading_the_same_again_is_said_to_narrow_comes_true(string read, int times)
    {
        Job job = Jobs.Of("{deep: {about: 12}}", """
              - {plate: low, thickness: 20, outline: {disc: [0, 0], radius: 20}}
              - {hole: bore, from: low.top, diameter: 9, depth: deep}
            """, string.Join('\n', Enumerable.Repeat($"  - {{{read}}}", times)));
        Reconciled before = Jobs.Reconcile(job);
        NextReading next = Assert.Single(before.Next, n => n.Text == "depth: [bore.end, low.top]");
        Reconciled after = Jobs.Reconcile(job with { Readings = [.. job.Readings, next.Reading with { Id = "again", ReadsMm = [12] }] });
        Narrowing foretold = Assert.Single(next.Narrows);
        Assert.Equal(before.Size("deep").StandardUncertainty, foretold.From, 1e-12);
        Assert.Equal(foretold.To, after.Size("deep").StandardUncertainty, 1e-9);
    }

    public static TheoryData<string> Examples => [.. Jobs.ExampleNames];

    private static string Text(string example) => File.ReadAllText(Path.Combine(Jobs.Root, "examples", example, "job.yaml"));

    /// <summary>The job with the reading taken, showing what was foretold of it.</summary>
    private static Job Taken(string text, NextReading next)
    {
        CaliperReading r = next.Reading;
        List<(string, JobValue)> entry = [(r.Way.ToString().ToLowerInvariant(), r.Second is null ? r.First.Text : new JobValue.List([r.First.Text, r.Second.Text]))];
        if (r.Across is { } across) entry.Add(("across", across.ToString().ToLowerInvariant()));
        if (r.AtHeight is { } height) entry.Add(("at_height", Sparewright.Part.Sizes.ExpressionText.Of(height)));
        entry.Add(("reads", (next.ForetoldMm ?? 10).ToString("R", CultureInfo.InvariantCulture)));
        Job job = Jobs.Read(text);
        if (job.Instruments.Values.Count(i => Measure.InstrumentKinds.IsCaliper(i.Kind)) > 1) entry.Add(("with", job.Instruments.Values.First(i => Measure.InstrumentKinds.IsCaliper(i.Kind)).Name));
        JobEdit edit = JobText.WithValue(text, "readings/+", new JobValue.Group(entry));
        Assert.Null(edit.Problem);
        return Jobs.Read(edit.Text!);
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Each_reading_narrows_as_it_promises_when_it_is_taken(string example)
    {
        string text = Text(example);
        IReadOnlyList<NextReading> told = Jobs.Reconcile(Jobs.Read(text)).Next;
        Assert.NotEmpty(told);
        Assert.Equal(told.Select(t => t.Text).Distinct(), told.Select(t => t.Text));
        foreach (NextReading next in told)
        {
            Assert.NotEmpty(next.Narrows);
            Reconciled after = Jobs.Reconcile(Taken(text, next));
            Assert.All(next.Narrows, n =>
            {
                Assert.True(n.To < n.From);
                Assert.Equal(n.To, after.Size(n.Size).StandardUncertainty, 2e-4 * n.To);
            });
        }
    }

    [Fact]
    public void Where_a_fit_hangs_on_a_size_its_reading_comes_first()
    {
        Job job = Jobs.Read(Text("vent-knuckle"));
        string[] critical = [.. job.Counterparts.Select(c => c.Changes).OfType<string>()];
        // The example's bore is known well enough; without what was read in it there is something to gain.
        job = job with { Readings = [.. job.Readings.Where(r => r.Id != "r3")] };
        NextReading first = Jobs.Reconcile(job).Next.First(n => n.Purpose == Purpose.Narrows);
        Assert.Contains(first.Narrows[0].Size, critical);
        Assert.Contains("on which a fit hangs", first.Why, StringComparison.Ordinal);
    }

    private static Job Tower(string readings) => Jobs.Of("{foot_t: {about: 5}, len: {about: 36}, bore: {about: 8}}", """
          - {plate: foot, thickness: foot_t, outline: {disc: [0, 0], radius: 12}}
          - {boss: socket, stands_on: foot.top, diameter: 17, height: len}
          - {hole: bore, from: socket.top, diameter: bore, depth: 20}
        """, readings);

    [Fact]
    public void What_nothing_decides_is_decided_by_what_is_told()
    {
        Job job = Tower("""
              - {outside: [foot.bottom, socket.top], reads: 41.00}
              - {inside: bore.wall, reads: 8.02}
            """);
        NextReading next = Jobs.Reconcile(job).Next[0];
        Assert.Equal(Purpose.Decides, next.Purpose);
        Assert.Null(next.ForetoldMm);
        Assert.Contains(next.Text, (string[])["outside: [foot.bottom, foot.top]", "depth: [foot.top, socket.top]"]);
    }

    [Fact]
    public void Suspects_that_cannot_be_told_apart_get_the_reading_that_tells_them_apart()
    {
        Job job = Tower("""
              - {outside: [foot.bottom, foot.top], reads: 5.00}
              - {outside: [foot.bottom, socket.top], reads: 41.70}
              - {depth: [socket.top, foot.top], reads: 36.00}
              - {inside: bore.wall, reads: 8.02}
            """);
        NextReading next = Assert.Single(Jobs.Reconcile(job).Next, n => n.Purpose == Purpose.TellsApart);
        Assert.Contains(next.Text, (string[])["outside: [foot.bottom, foot.top]", "depth: [foot.top, socket.top]", "outside: [foot.bottom, socket.top]"]);
    }

    [Fact]
    public void A_reading_that_nothing_checks_gets_its_check()
    {
        Job job = Tower("""
              - {outside: [foot.bottom, foot.top], reads: 5.00}
              - {outside: [foot.bottom, foot.top], reads: 5.01}
              - {outside: [foot.bottom, socket.top], reads: 41.00}
              - {outside: [foot.bottom, socket.top], reads: 41.01}
              - {id: alone, inside: bore.wall, reads: 8.02}
            """);
        NextReading next = Assert.Single(Jobs.Reconcile(job).Next, n => n.Why.Contains("checks alone, which nothing checks", StringComparison.Ordinal));
        Assert.Equal("inside: bore.wall", next.Text);
    }

    [Fact]
    public void No_jaw_is_sent_to_covered_faces_into_narrow_holes_or_to_the_floor_of_a_bore()
    {
        Job job = Jobs.Of("{foot_t: {about: 5}, len: {about: 36}, bore: {about: 2}, deep: {about: 20}}", """
              - {plate: foot, thickness: foot_t, outline: {disc: [0, 0], radius: 12}}
              - {boss: socket, stands_on: foot.top, diameter: 17, height: len}
              - {hole: bore, from: socket.top, diameter: bore, depth: deep}
            """, "  - {outside: [foot.bottom, socket.top], reads: 41.00}");
        foreach (NextReading next in Jobs.Reconcile(job).Next)
        {
            Assert.DoesNotContain("socket.bottom", next.Text, StringComparison.Ordinal);
            Assert.DoesNotContain("bore.wall", next.Text, StringComparison.Ordinal);
            if (next.Text.Contains("bore.end", StringComparison.Ordinal)) Assert.StartsWith("depth", next.Text, StringComparison.Ordinal);
        }
    }
}
