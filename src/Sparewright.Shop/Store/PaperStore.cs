using System.Data.Common;
using System.Text;
using Dapper;
using Sparewright.Handover.Papers;
using Sparewright.Handover.Photographs;
using Sparewright.Part;
using Sparewright.Shop.Papers;

namespace Sparewright.Shop.Store;

/// <summary>Jobs as papers, into a database and out of it.</summary>
internal sealed class PaperStore(IDatabase database, TimeProvider clock) : IPaperStore
{
    private sealed record CleanPaper(string Name, CleanPhotograph Photograph);

    private sealed record OutputRow(string Job, string Name, string Hash, string Seal)
    {
        public string OwnSeal() => Sealed.Of(Job, Name, Hash);
    }

    /// <summary>All in one transaction: a job is taken in as a whole or not at all. Photographs are cleaned before it, since that takes its time and others want to write.</summary>
    public async Task<Kept<TakenIn>> TakeInAsync(JobPapers papers, string from, CancellationToken cancel = default)
    {
        var remarks = new List<string>(papers.Remarks);
        Kept<List<CleanPaper>> photographs = await Task.Run(() => CleanAsync(papers, remarks, cancel), cancel).ConfigureAwait(false);
        if (!photographs.IsGood) return photographs.Problem;
        return await database.WriteAsync<TakenIn>(async (write, within) =>
        {
            Kept<JobHead> begun = await RevisionsAsync(write, within, papers, from, cancel).ConfigureAwait(false);
            if (!begun.IsGood) return begun.Problem;
            JobId job = begun.Value.Job;
            foreach (var (name, photograph) in photographs.Value)
                await PhotographRow.AddAsync(write, within, job, name, photograph.MediaType, photograph.WidthPx, photograph.HeightPx, photograph.Content, clock.GetUtcNow()).ConfigureAwait(false);
            StoreProblem? problem = await TrialsAsync(write, within, job, papers, cancel).ConfigureAwait(false) ?? await OutputsAsync(write, within, job, papers, cancel).ConfigureAwait(false);
            return problem is null ? new TakenIn(begun.Value, remarks) : problem;
        }, cancel).ConfigureAwait(false);
    }

    public Task<Kept<JobPapers>> HandOutAsync(JobId job, CancellationToken cancel = default) => database.ReadAsync<JobPapers>(async (read, within) =>
    {
        List<RevisionRow> rows = await RevisionRow.AllAsync(read, within, job.Text).ConfigureAwait(false);
        if (rows.Count == 0) return JobStore.NoSuch("job");
        var papers = new List<Paper> { Kept(JobPapers.JobFile, rows[0].Text) };
        // A job that never changed has no history to tell.
        if (rows.Count > 1) papers.Add(Paper.Of(JobPapers.Revisions, History.Write(await InOrderAsync(read, within, rows).ConfigureAwait(false))));
        var taken = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (PhotographRow photograph in await PhotographRow.PresentAsync(read, within, job).ConfigureAwait(false))
            papers.Add(Kept($"{JobPapers.Photographs}/{PaperNames.Make(WithEnding(photograph), taken)}", photograph.Hash));
        taken.Clear();
        foreach (ShopRecord trial in await RecordStore.LatestAsync(read, within, RecordKind.Trial, job).ConfigureAwait(false))
            papers.Add(Paper.Of($"{JobPapers.Trials}/{PaperNames.Make(trial.Name.Name, taken)}", Encoding.UTF8.GetBytes(trial.Text)));
        taken.Clear();
        foreach (OutputRow output in await read.QueryAsync<OutputRow>("select job as Job, name as Name, hash as Hash, seal as Seal from output where job = @job", new { job = job.Text }, within).ConfigureAwait(false))
        {
            if (output.OwnSeal() != output.Seal) throw new BrokenSealException($"an output of {job} is not what was kept");
            papers.Add(Kept($"{JobPapers.Outputs}/{PaperNames.Make(output.Name, taken)}", output.Hash));
        }

        return JobPapers.Of(papers, []);
    }, cancel);

    private async Task<Kept<JobHead>> RevisionsAsync(DbConnection write, DbTransaction within, JobPapers papers, string from, CancellationToken cancel)
    {
        if (papers.Find(JobPapers.JobFile) is not { } jobFile) return new StoreProblem(StoreProblemKind.Refused, "there is no job.yaml among the papers", "check that it is the right folder or bundle");
        Kept<string> text = await TextAsync(jobFile, cancel).ConfigureAwait(false);
        if (!text.IsGood) return text.Problem;
        if (papers.Find(JobPapers.Revisions) is not { } file) return await JobStore.BeginAsync(write, within, text.Value, $"taken in from {from}", clock.GetUtcNow()).ConfigureAwait(false);

        Kept<byte[]> told = await ReadAsync(file, cancel).ConfigureAwait(false);
        if (!told.IsGood) return told.Problem;
        Kept<IReadOnlyList<Revision>> history = History.Read(told.Value);
        if (!history.IsGood) return history.Problem;
        Kept<JobHead> head = await AgainAsync(write, within, history.Value).ConfigureAwait(false);
        if (!head.IsGood || head.Value.Latest.Text == text.Value) return head;
        RevisionRow last = await RevisionRow.GetAsync(write, within, head.Value.Job.Text, head.Value.Latest.Number).ConfigureAwait(false);
        return await JobStore.EnterAsync(write, within, last, text.Value, "changed outside the shop", clock.GetUtcNow()).ConfigureAwait(false) is { } problem
            ? problem
            : await JobStore.HeadAsync(write, within, last.Job).ConfigureAwait(false);
    }

    /// <summary>Does everything again that a job's history tells. An undo or redo must come to what it says that it came to.</summary>
    private static async Task<Kept<JobHead>> AgainAsync(DbConnection write, DbTransaction within, IReadOnlyList<Revision> history)
    {
        if (history[0].Kind is not RevisionKind.Begun) return DoesNotFit(history[0]);
        Kept<JobHead> head = await JobStore.BeginAsync(write, within, history[0].Text, history[0].What, history[0].At).ConfigureAwait(false);
        foreach (Revision revision in history.Skip(1))
        {
            if (!head.IsGood) return head;
            string job = head.Value.Job.Text;
            RevisionRow last = await RevisionRow.GetAsync(write, within, job, revision.Number - 1).ConfigureAwait(false);
            StoreProblem? problem = revision.Kind switch
            {
                RevisionKind.Entry => await JobStore.EnterAsync(write, within, last, revision.Text, revision.What, revision.At).ConfigureAwait(false),
                RevisionKind.Undo => await JobStore.UndoAsync(write, within, last, revision.At).ConfigureAwait(false),
                RevisionKind.Redo => await JobStore.RedoAsync(write, within, last, revision.At).ConfigureAwait(false),
                _ => DoesNotFit(revision),
            };
            if (problem is not null) return DoesNotFit(revision);
            head = await JobStore.HeadAsync(write, within, job).ConfigureAwait(false);
            if (head.Value is { } now && (now.Latest.Text != revision.Text || now.Latest.What != revision.What)) return DoesNotFit(revision);
        }

        return head;
    }

    private static async Task<Kept<List<CleanPaper>>> CleanAsync(JobPapers papers, List<string> remarks, CancellationToken cancel)
    {
        var clean = new List<CleanPaper>();
        foreach (Paper paper in papers.In(JobPapers.Photographs))
        {
            Kept<byte[]> file = await ReadAsync(paper, cancel).ConfigureAwait(false);
            if (!file.IsGood) return file.Problem;
            if (!CleanPhotograph.TryTake(file.Value, out CleanPhotograph? photograph, out Problem? problem)) return new StoreProblem(StoreProblemKind.Refused, $"{paper.Name}: {problem.What}", problem.Remedy);
            if (!file.Value.AsSpan().SequenceEqual(photograph.Content)) remarks.Add($"{paper.Name} was written anew without its data of place and camera");
            clean.Add(new CleanPaper(paper.NameInFolder, photograph));
        }

        return clean;
    }

    private async Task<StoreProblem?> TrialsAsync(DbConnection write, DbTransaction within, JobId job, JobPapers papers, CancellationToken cancel)
    {
        foreach (Paper paper in papers.In(JobPapers.Trials))
        {
            Kept<string> text = await TextAsync(paper, cancel).ConfigureAwait(false);
            if (!text.IsGood) return text.Problem;
            Kept<ShopRecord> kept = await RecordStore.KeepAsync(write, within, new RecordName(RecordKind.Trial, paper.NameInFolder, job), 0, text.Value, clock.GetUtcNow()).ConfigureAwait(false);
            if (!kept.IsGood) return kept.Problem;
        }

        return null;
    }

    private static async Task<StoreProblem?> OutputsAsync(DbConnection write, DbTransaction within, JobId job, JobPapers papers, CancellationToken cancel)
    {
        foreach (Paper paper in papers.In(JobPapers.Outputs))
        {
            Kept<byte[]> content = await ReadAsync(paper, cancel).ConfigureAwait(false);
            if (!content.IsGood) return content.Problem;
            string hash = await Contents.KeepAsync(write, within, content.Value).ConfigureAwait(false);
            var row = new OutputRow(job.Text, paper.NameInFolder, hash, "");
            await write.ExecuteAsync("insert into output (job, name, hash, seal) values (@Job, @Name, @Hash, @Seal)", row with { Seal = row.OwnSeal() }, within).ConfigureAwait(false);
        }

        return null;
    }

    /// <summary>A paper that cannot be read is no fault of the database.</summary>
    private static async Task<Kept<byte[]>> ReadAsync(Paper paper, CancellationToken cancel)
    {
        try
        {
            return await paper.ReadAsync(cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new StoreProblem(StoreProblemKind.Unavailable, e.Message.TrimEnd('.'), "see that the files are there and can be read; nothing was taken in");
        }
    }

    private static async Task<Kept<string>> TextAsync(Paper paper, CancellationToken cancel)
    {
        Kept<byte[]> bytes = await ReadAsync(paper, cancel).ConfigureAwait(false);
        return bytes.IsGood ? Contents.Text(bytes.Value, paper.Name) : bytes.Problem;
    }

    private static async Task<IReadOnlyList<Revision>> InOrderAsync(DbConnection read, DbTransaction within, List<RevisionRow> rows)
    {
        Dictionary<string, string> texts = await Contents.TextsAsync(read, within, rows.Select(r => r.Text)).ConfigureAwait(false);
        return [.. rows.AsEnumerable().Reverse().Select(r => r.With(texts[r.Text]))];
    }

    /// <summary>Kept contents never change, so they can be fetched later.</summary>
    private Paper Kept(string name, string hash) => new(name, async cancel =>
    {
        Kept<byte[]> content = await database.ReadAsync<byte[]>(async (read, within) => await Contents.ReadAsync(read, within, hash).ConfigureAwait(false), cancel).ConfigureAwait(false);
        return content.IsGood ? content.Value : throw new IOException($"{name}: {content.Problem}");
    });

    /// <summary>The name that the user gave it, with an ending that is true.</summary>
    private static string WithEnding(PhotographRow photograph)
    {
        string[] endings = photograph.MediaType == "image/png" ? [".png"] : [".jpg", ".jpeg"];
        return endings.Contains(Path.GetExtension(photograph.Name), StringComparer.OrdinalIgnoreCase) ? photograph.Name : $"{photograph.Name}{endings[0]}";
    }

    private static StoreProblem DoesNotFit(Revision revision) =>
        new(StoreProblemKind.Refused, $"revisions.txt cannot be followed: revision {revision.Number} does not come of those before it", "take it out; the job file is then its first revision");
}
