namespace Sparewright.Strength.Solve;

/// <summary>Does pieces of work side by side. Which pieces there are never depends on how many threads there are, so neither do the results.</summary>
internal sealed class Workers(int threads, CancellationToken cancel)
{
    /// <summary>Numbers in one piece of a long array: a few fit into the cache beside each other.</summary>
    public const int PieceLength = 16384;

    /// <summary>Fewer pieces of an array are done at once by whoever asks: waking others takes longer.</summary>
    private const int FewPieces = 4;

    private readonly ParallelOptions _options = new() { MaxDegreeOfParallelism = threads };

    public int Threads { get; } = threads;

    public CancellationToken Cancel { get; } = cancel;

    /// <param name="worthwhile">Whether there is enough to do to wake others.</param>
    public void For(int pieces, Action<int> work, bool worthwhile = true)
    {
        if (Threads == 1 || pieces == 1 || !worthwhile)
            for (int piece = 0; piece < pieces; piece++) work(piece);
        else
            Parallel.For(0, pieces, _options, work);
    }

    /// <summary>Work on the pieces of an array: start and length of each.</summary>
    public void Along(int length, Action<int, int> work)
    {
        int pieces = Pieces(length);
        if (pieces == 1) work(0, length);
        else For(pieces, p => work(p * PieceLength, Math.Min(PieceLength, length - p * PieceLength)), pieces > FewPieces);
    }

    /// <summary>Sum over the pieces of an array, always added in the same order.</summary>
    public double Sum(int length, Func<int, int, double> work)
    {
        int pieces = Pieces(length);
        var parts = new double[pieces];
        For(pieces, p => parts[p] = work(p * PieceLength, Math.Min(PieceLength, length - p * PieceLength)), pieces > FewPieces);
        double sum = 0;
        foreach (double part in parts) sum += part;
        return sum;
    }

    private static int Pieces(int length) => Math.Max(1, (length + PieceLength - 1) / PieceLength);
}
