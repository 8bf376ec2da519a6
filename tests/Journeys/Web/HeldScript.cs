namespace Sparewright.Journeys.Web;

/// <summary>A pane's script on its way to the browser, as from a busy machine.</summary>
internal sealed class HeldScript
{
    private static readonly TimeSpan AskedWithin = TimeSpan.FromSeconds(45);

    /// <summary>When the browser asks for it.</summary>
    public TaskCompletionSource Asked { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>When it may go on.</summary>
    public TaskCompletionSource Free { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Waits until the browser has asked for it, so that it is really being waited for.</summary>
    /// <exception cref="TimeoutException">It never asked.</exception>
    public Task AskedAsync() => Asked.Task.WaitAsync(AskedWithin);

    public void LetGo() => Free.SetResult();
}
