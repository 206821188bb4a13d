using Acquire.Storage.Migrations;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Storage.Tests.Support;

/// <summary>A test with a real store in a folder of its own.</summary>
public abstract class StoreFixture : IAsyncLifetime
{
    private readonly TempFolder _folder = new();

    internal FakeTimeProvider Time { get; } = new(Some.Evening);

    internal AcquireStore Store { get; private set; } = null!;

    internal TempFolder Folder => _folder;

    protected static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        await EmptyStore.PutAsync(_folder.Path);
        Store = await OpenAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        _folder.Dispose();
        GC.SuppressFinalize(this);
    }

    internal async Task ReopenAsync()
    {
        await Store.DisposeAsync();
        Store = await OpenAsync();
    }

    /// <summary>With a short wait for locks, so that tests of locks are quick.</summary>
    private Task<AcquireStore> OpenAsync() => AcquireStore.OpenAsync(_folder.Path, Time, Scripts.All, lockWait: 1, Token);
}
