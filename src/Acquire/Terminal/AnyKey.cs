namespace Acquire.Terminal;

/// <summary>Tells when a key was pressed, where there is a keyboard.</summary>
internal static class AnyKey
{
    private static readonly TimeSpan Poll = TimeSpan.FromMilliseconds(100);

    /// <summary>A source that is cancelled by the next key; to be disposed when nobody waits for it any more.</summary>
    public static CancellationTokenSource Watch(Surroundings surroundings, CancellationToken cancellationToken)
    {
        var pressed = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        if (surroundings.HasKeyboard)
        {
            _ = WatchAsync(pressed, surroundings.Time);
        }

        return pressed;
    }

    private static async Task WatchAsync(CancellationTokenSource pressed, TimeProvider time)
    {
        try
        {
            while (!Console.KeyAvailable)
            {
                await Task.Delay(Poll, time, pressed.Token);
            }

            _ = Console.ReadKey(intercept: true);
            await pressed.CancelAsync();
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            // Nobody waits any more.
        }
    }
}
