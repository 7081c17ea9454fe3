"""Without a signal: the server is really stopped and the browser started cold."""

from collections.abc import Callable

from selenium.webdriver.common.by import By

from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table


def test_after_one_visit_the_whole_job_is_done_with_the_server_stopped(
    live_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    phone = browser()
    table = Table(phone, live_server.url)
    table.open()
    table.until_ready_offline()
    live_server.stop()
    phone.cold_start()

    table.open()
    walk = table.new_set("Tern C")
    for stage in ("what-is-it", "front", "top", "back", "underneath", "moves"):
        table.tap(f"#stage-{stage} .rest")
        table.until_saved()
    table.answer("added-holes", "None found")
    table.type("#asking", "120")
    table.until_saved()
    price, line = table.price(), table.said("dial")
    table.tap(".to-verdict")
    verdict = table.find(".verdict-word").text
    assert verdict

    phone.cold_start()
    table.open(walk)
    assert table.price() == price
    assert table.said("dial") == line
    assert table.find("#asking").get_attribute("value") == "120"
    table.tap(".to-verdict")
    assert table.find(".verdict-word").text == verdict


def test_a_page_of_the_server_says_without_a_signal_where_the_app_is(
    live_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    phone = browser()
    table = Table(phone, live_server.url)
    table.open()
    table.until_ready_offline()
    live_server.stop()
    phone.driver.get(f"{live_server.url}/form")
    assert phone.driver.find_element(By.CSS_SELECTOR, "a[href='/']").is_displayed()


def test_the_app_says_when_it_is_ready_to_work_without_a_signal(table: Table) -> None:
    table.until_ready_offline()
    table.open("#/about")
    table.find(".card", "Ready to work without a signal")
    kept = table.find(".card", "What is kept").text
    assert "promised to keep it" in kept
