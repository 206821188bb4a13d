using Acquire.Storage.Records;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Demo;

/// <summary>A data folder filled once with the demo's history; tests only read it. It ends on a Wednesday afternoon.</summary>
public sealed class FilledTerm : IAsyncLifetime
{
    public static readonly DateTimeOffset Now = new(2026, 11, 25, 15, 0, 0, TimeSpan.Zero);

    private readonly InMemory _program = Program(Now);

    public string Folder => Path.Combine(_program.Folder, "term");

    public string Said { get; private set; } = "";

    /// <summary>What the filling wrote to standard error.</summary>
    public string Complained { get; private set; } = "";

    public IReadOnlyList<StripRecord> Strips { get; private set; } = [];

    internal static InMemory Program(DateTimeOffset now) => new() { Time = new FakeTimeProvider(now), BeginsWithStore = false };

    public async ValueTask InitializeAsync()
    {
        (var code, Said, Complained) = await _program.RunAsync("demo", "--into", Folder);
        Assert.True(code == 0, Complained);
        await using var store = await OpenAsync(TestContext.Current.CancellationToken);
        Strips = await store.ListStripsAsync(StripFilter.All, TestContext.Current.CancellationToken).ToListAsync();
    }

    public Task<AcquireStore> OpenAsync(CancellationToken cancellationToken) =>
        EmptyStore.OpenAsync(Folder, _program.Time, cancellationToken);

    public ValueTask DisposeAsync()
    {
        _program.Dispose();
        return ValueTask.CompletedTask;
    }
}
