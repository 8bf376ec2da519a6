using Xunit;
using static Sparewright.Shop.Tests.TestShop;

namespace Sparewright.Shop.Tests;

/// <summary>What every store of jobs keeps to, whichever database it stands on.</summary>
public class JobStoreContract(Postgres postgres)
{
    public static TheoryData<string> Kinds => TestShop.Kinds;

    private const string First = "sparewright: 1\npart: Hinge\n";

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task A_job_is_there_again_byte_for_byte(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        string odd = "sparewright: 1\r\npart: \"Schräge Lasche ⌀ 5\"\r\n# it's 100 % \\ 'quoted' \ud83d\udd27\r\n\r\n";
        JobHead head = Good(await shop.Jobs.BeginAsync(odd, "begun"));
        await shop.ReopenAsync();
        Assert.Equal(head, Good(await shop.Jobs.HeadAsync(head.Job)));
        Assert.Equal(odd, head.Latest.Text);
        Assert.Equal((1, RevisionKind.Begun, null, null), (head.Latest.Number, head.Latest.Kind, head.Undoes, head.Redoes));
        JobEntry entry = Assert.Single(Good(await shop.Jobs.JobsAsync()));
        Assert.Equal((head.Job, "Schräge Lasche ⌀ 5", 1), (entry.Job, entry.Part, entry.Revision));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task The_last_changed_job_is_the_first_in_the_list(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobHead a = Good(await shop.Jobs.BeginAsync(First, "begun")), b = Good(await shop.Jobs.BeginAsync("sparewright: 1\npart: Knob\n", "begun"));
        Good(await shop.Jobs.EnterAsync(a.Job, 1, First + "# more\n", "more"));
        Assert.Equal([a.Job, b.Job], Good(await shop.Jobs.JobsAsync()).Select(j => j.Job));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Who_comes_second_is_told_what_stands_there_now_and_overwrites_nothing(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobHead head = Good(await shop.Jobs.BeginAsync(First, "begun"));
        JobHead mine = Good(await shop.Jobs.EnterAsync(head.Job, 1, "mine", "mine"));
        StoreProblem told = (await shop.Jobs.EnterAsync(head.Job, 1, "theirs", "theirs")).Problem!;
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, told.Kind);
        Assert.Equal(mine, told.Head);
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, (await shop.Jobs.UndoAsync(head.Job, 1)).Problem!.Kind);
        Assert.Equal("mine", Good(await shop.Jobs.HeadAsync(head.Job)).Latest.Text);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Undo_and_redo_are_revisions_and_outlive_a_restart(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobId job = Good(await shop.Jobs.BeginAsync("0", "begun")).Job;
        for (int k = 1; k <= 3; k++) Good(await shop.Jobs.EnterAsync(job, k, $"{k}", $"entry {k}"));
        Assert.Equal("2", Good(await shop.Jobs.UndoAsync(job, 4)).Latest.Text);
        await shop.ReopenAsync();
        JobHead head = Good(await shop.Jobs.UndoAsync(job, 5));
        Assert.Equal(("1", "entry 1", "entry 2", 6, RevisionKind.Undo, "undo: entry 2"), (head.Latest.Text, head.Undoes, head.Redoes, head.Latest.Number, head.Latest.Kind, head.Latest.What));
        await shop.ReopenAsync();
        Assert.Equal("2", Good(await shop.Jobs.RedoAsync(job, 6)).Latest.Text);
        Assert.Equal("3", Good(await shop.Jobs.RedoAsync(job, 7)).Latest.Text);
        Assert.Equal(StoreProblemKind.Refused, (await shop.Jobs.RedoAsync(job, 8)).Problem!.Kind);
        Good(await shop.Jobs.UndoAsync(job, 8));
        // A new entry ends what could be done again.
        head = Good(await shop.Jobs.EnterAsync(job, 9, "new", "new entry"));
        Assert.Null(head.Redoes);
        Assert.Equal("2", Good(await shop.Jobs.UndoAsync(job, 10)).Latest.Text);
        Assert.Equal(Enumerable.Range(1, 11).Reverse(), Good(await shop.Jobs.RevisionsAsync(job)).Select(r => r.Number));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Hundreds_of_random_edits_are_undone_to_the_first_byte_and_done_again_to_the_last(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        var random = new Random(4711);
        string text = "0";
        JobHead head = Good(await shop.Jobs.BeginAsync(text, "begun"));
        for (int k = 0; k < 300; k++)
        {
            if (random.Next(100) == 0) await shop.ReopenAsync();
            int at = random.Next(text.Length + 1);
            text = random.Next(3) == 0 && text.Length > 1 ? text.Remove(Math.Min(at, text.Length - 1), 1) : text.Insert(at, $"{(char)random.Next(32, 0x2600)}");
            head = Good(await shop.Jobs.EnterAsync(head.Job, head.Latest.Number, text, $"edit {k}"));
        }

        while (head.Undoes is not null) head = Good(await shop.Jobs.UndoAsync(head.Job, head.Latest.Number));
        Assert.Equal(("0", 601), (head.Latest.Text, head.Latest.Number));
        await shop.ReopenAsync();
        while (head.Redoes is not null) head = Good(await shop.Jobs.RedoAsync(head.Job, head.Latest.Number));
        Assert.Equal((text, 901), (head.Latest.Text, head.Latest.Number));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Eight_writers_at_once_lose_nothing(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobId job = Good(await shop.Jobs.BeginAsync("", "begun")).Job;
        const int writers = 8, each = 25;
        await Task.WhenAll(Enumerable.Range(0, writers).Select(w => Task.Run(async () =>
        {
            for (int k = 0; k < each; k++)
            {
                JobHead seen = Good(await shop.Jobs.HeadAsync(job));
                Kept<JobHead> kept;
                while (!(kept = await shop.Jobs.EnterAsync(job, seen.Latest.Number, $"{seen.Latest.Text}{w}.{k}\n", "line")).IsGood)
                {
                    Assert.Equal(StoreProblemKind.ChangedMeanwhile, kept.Problem.Kind);
                    seen = kept.Problem.Head!;
                }
            }
        })));
        string[] lines = Good(await shop.Jobs.HeadAsync(job)).Latest.Text.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(writers * each, lines.Distinct().Count());
        for (int w = 0; w < writers; w++) Assert.Equal(Enumerable.Range(0, each).Select(k => $"{w}.{k}"), lines.Where(l => l.StartsWith($"{w}.", StringComparison.Ordinal)));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Photographs_come_back_whole_and_in_order(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobId job = Good(await shop.Jobs.BeginAsync(First, "begun")).Job;
        byte[] content = [.. Enumerable.Range(0, 70_000).Select(k => (byte)(k * 31))];
        Photograph first = Good(await shop.Jobs.AddPhotographAsync(job, "../../etc/passwd", "image/png", 640, 480, content));
        Photograph again = Good(await shop.Jobs.AddPhotographAsync(job, "again.png", "image/png", 640, 480, content));
        await shop.ReopenAsync();
        Assert.Equal([first, again], Good(await shop.Jobs.PhotographsAsync(job)).There);
        Assert.Equal(content, Good(await shop.Jobs.PhotographContentAsync(job, 2)));
        Assert.Equal("../../etc/passwd", first.Name);
        Assert.Equal(StoreProblemKind.Missing, (await shop.Jobs.PhotographContentAsync(job, 3)).Problem!.Kind);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task A_removed_photograph_is_given_out_no_more_and_can_be_put_back(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobId job = Good(await shop.Jobs.BeginAsync(First, "begun")).Job;
        byte[] content = [1, 2, 3];
        Photograph first = Good(await shop.Jobs.AddPhotographAsync(job, "wrong.png", "image/png", 6, 4, content)), second = Good(await shop.Jobs.AddPhotographAsync(job, "right.png", "image/png", 6, 4, content));
        Assert.Equal(first, Good(await shop.Jobs.RemovePhotographAsync(job, 1)));
        // Another window asks for the same.
        Assert.Equal(first, Good(await shop.Jobs.RemovePhotographAsync(job, 1)));
        await shop.ReopenAsync();
        Assert.Equal([second], Good(await shop.Jobs.PhotographsAsync(job)).There);
        Assert.Equal([first], Good(await shop.Jobs.PhotographsAsync(job)).Removed);
        Assert.Equal(StoreProblemKind.Missing, (await shop.Jobs.PhotographContentAsync(job, 1)).Problem!.Kind);
        Assert.Equal(["job.yaml", "photographs/right.png"], Good(await shop.Data.Papers.HandOutAsync(job)).All.Select(p => p.Name).Order(StringComparer.Ordinal));
        // Its number is not given to another.
        Photograph third = Good(await shop.Jobs.AddPhotographAsync(job, "third.png", "image/png", 6, 4, content));
        Assert.Equal(3, third.Number);

        Assert.Equal(first, Good(await shop.Jobs.PutPhotographBackAsync(job, 1)));
        await shop.ReopenAsync();
        Assert.Equal([first, second, third], Good(await shop.Jobs.PhotographsAsync(job)).There);
        Assert.Empty(Good(await shop.Jobs.PhotographsAsync(job)).Removed);
        Assert.Equal(content, Good(await shop.Jobs.PhotographContentAsync(job, 1)));
        Assert.Equal(StoreProblemKind.Missing, (await shop.Jobs.RemovePhotographAsync(job, 4)).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Missing, (await shop.Jobs.RemovePhotographAsync(new JobId("nosuchjob"), 1)).Problem!.Kind);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task What_is_not_there_is_said(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        var nobody = new JobId("nosuchjob");
        Assert.Equal(StoreProblemKind.Missing, (await shop.Jobs.HeadAsync(nobody)).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Missing, (await shop.Jobs.EnterAsync(nobody, 1, "x", "x")).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Missing, (await shop.Jobs.RevisionsAsync(nobody)).Problem!.Kind);
        JobId job = Good(await shop.Jobs.BeginAsync(First, "begun")).Job;
        Assert.Equal(StoreProblemKind.Refused, (await shop.Jobs.UndoAsync(job, 1)).Problem!.Kind);
    }
}
