using System.Collections.Concurrent;
using Microsoft.Extensions.Hosting;

namespace Acquire.Web.Security.Tokens;

/// <summary>
/// The tokens as the service knows them: read again when what is known is half a second old, so that a new one works and a revoked one
/// ends within a second. Requests that are still open then, such as event streams, are cut off.
/// </summary>
/// <param name="folder">The data folder.</param>
internal sealed class TokenWatch(string folder, TimeProvider time, ILogger<TokenWatch> logger) : BackgroundService
{
    private static readonly TimeSpan Fresh = TimeSpan.FromMilliseconds(500);
    private static readonly TimeSpan UseKept = TimeSpan.FromSeconds(10);
    private readonly TokenFile _file = new(folder);
    private readonly ConcurrentDictionary<HttpContext, string> _open = new();
    private readonly ConcurrentDictionary<string, DateTimeOffset> _used = new(TokenUseFile.Read(folder));
    private readonly Lock _reading = new();
    private FrozenTokens? _known;
    private string? _fault;
    private volatile bool _unwritten;

    /// <summary>The token that stands and was given; null where there is none.</summary>
    public AccessToken? Find(string given)
    {
        // Looked up anew before it is called wrong: it may have been made a moment ago.
        var hash = RandomSecret.Hash(given);
        if ((Live(hash, Known()) ?? Live(hash, Known(anew: true))) is not { } token)
        {
            return null;
        }

        _used[token.Hash] = time.GetUtcNow();
        _unwritten = true;
        return token;
    }

    /// <summary>Whether a token that was found before still stands.</summary>
    public bool Stands(string hash) => Live(hash, Known()) is not null;

    /// <summary>Keeps an eye on a request, until it is disposed of.</summary>
    public IDisposable Watch(HttpContext context, string hash)
    {
        _open[context] = hash;
        return new Leaving(() => _open.TryRemove(context, out _));
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var tick = new PeriodicTimer(Fresh, time);
        var kept = time.GetTimestamp();
        try
        {
            while (await tick.WaitForNextTickAsync(stoppingToken))
            {
                foreach (var (context, _) in _open.Where(open => !Stands(open.Value)))
                {
                    context.Abort();
                }

                if (_unwritten && time.GetElapsedTime(kept) >= UseKept)
                {
                    kept = time.GetTimestamp();
                    KeepUse();
                }
            }
        }
        catch (OperationCanceledException)
        {
            KeepUse();
        }
    }

    private AccessToken? Live(string hash, Dictionary<string, AccessToken> known) =>
        known.TryGetValue(hash, out var token) && token.IsLive(time.GetUtcNow()) ? token : null;

    private Dictionary<string, AccessToken> Known(bool anew = false)
    {
        lock (_reading)
        {
            if (anew || _known is null || time.GetElapsedTime(_known.ReadAt) >= Fresh)
            {
                _known = new FrozenTokens(time.GetTimestamp(), Read());
            }

            return _known.ByHash;
        }
    }

    private Dictionary<string, AccessToken> Read()
    {
        try
        {
            var tokens = _file.Read().ToDictionary(t => t.Hash);
            _fault = null;
            return tokens;
        }
        catch (Exception e) when (e is BenchException or ArgumentException)
        {
            if (_fault != e.Message)
            {
                TokenLog.Unreadable(logger, _fault = e.Message);
            }

            return [];
        }
    }

    private void KeepUse()
    {
        if (!_unwritten)
        {
            return;
        }

        _unwritten = false;
        try
        {
            var known = Known();
            TokenUseFile.Write(folder, _used.Where(u => known.ContainsKey(u.Key)).ToDictionary());
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            TokenLog.UseNotKept(logger, e.Message);
        }
    }

    private sealed record FrozenTokens(long ReadAt, Dictionary<string, AccessToken> ByHash);

    private sealed class Leaving(Action leave) : IDisposable
    {
        public void Dispose() => leave();
    }
}

internal static partial class TokenLog
{
    [LoggerMessage(1, LogLevel.Error, "Nobody gets in with a token: {Fault}")]
    public static partial void Unreadable(ILogger logger, string fault);

    [LoggerMessage(2, LogLevel.Warning, "When tokens were used last could not be kept: {Fault}")]
    public static partial void UseNotKept(ILogger logger, string fault);
}
