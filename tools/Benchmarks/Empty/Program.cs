using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

// An ASP.NET Core program that does nothing: what a start costs before anything of ours is in it.
var builder = WebApplication.CreateBuilder();
builder.Logging.ClearProviders();
var app = builder.Build();
app.MapGet("/", () => "empty");
app.Urls.Add("http://127.0.0.1:0");
await app.StartAsync();
await Console.Out.WriteLineAsync($"Listening on {app.Urls.First()}");
await app.WaitForShutdownAsync();
